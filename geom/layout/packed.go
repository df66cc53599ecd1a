package layout

import (
	"archive/zip"
	"io"
	"io/fs"
	"os"
	"strings"

	"aftbay/geom/say"
)

// Limits of a packed layout. They are held against the sizes that the archive
// declares, before anything is unpacked; more than the declared size is never
// read.
const (
	maxPackedBytes   = 1 << 30 // of the archive itself
	maxPackedEntries = 10_000
	// maxPackedList is how much of an archive is read for its table of contents:
	// some 400 bytes for each entry allowed. It keeps one that lies about its
	// number of entries from filling the memory.
	maxPackedList    = 4 << 20
	maxUnpackedBytes = 2 << 30
	// maxPackedRatio is how far an archive may shrink its files, once they are
	// larger than freeUnpackedBytes: STL files shrink some 3 to 50 times.
	maxPackedRatio    = 200
	freeUnpackedBytes = 64 << 20
)

// packed is an open .aftbay file.
type packed struct {
	file    *os.File
	entries map[string]*zip.File
	folded  map[string]string // names without capitals -> as they are
	list    []*zip.File       // all of them, as they stand
	prefix  string            // "folder/" when the folder itself was packed
}

// openPacked opens an archive and refuses it if any entry is hostile.
func openPacked(path string) (*packed, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, unreadable(path, err, say.Of("check the file"))
	}
	p := &packed{file: file, entries: map[string]*zip.File{}, folded: map[string]string{}}
	if err := p.index(path); err != nil {
		file.Close()
		return nil, err
	}
	return p, nil
}

func (p *packed) index(path string) error {
	info, err := p.file.Stat()
	if err != nil {
		return unreadable(path, err, say.Of("check the file"))
	}
	if info.Size() > maxPackedBytes {
		return tooLarge(path, info.Size(), maxPackedBytes)
	}
	list := &metered{r: p.file, leftBytes: maxPackedList}
	archive, err := zip.NewReader(list, info.Size())
	if list.leftBytes < 0 {
		return Fault{Where: path, What: say.F("its table of contents takes more than %d bytes", maxPackedList), Mend: say.Of("leave out what the layout doesn't use")}
	}
	list.free = true // from here on the limits of the entries hold
	if err != nil {
		return Fault{Where: path, What: say.F("not readable as a packed layout: %s", err), Mend: say.Of("pack the layout folder again")}
	}
	if len(archive.File) > maxPackedEntries {
		return Fault{Where: path, What: say.F("%d files packed in it, more than %d", len(archive.File), maxPackedEntries), Mend: say.Of("leave out what the layout doesn't use")}
	}
	var sum uint64
	for _, entry := range archive.File {
		if err := p.admit(path, entry); err != nil {
			return err
		}
		sum += entry.UncompressedSize64 // each at most MaxFileBytes: no overflow
	}
	if sum > maxUnpackedBytes || (sum > freeUnpackedBytes && sum > maxPackedRatio*uint64(info.Size())) {
		return Fault{
			Where: path, What: say.F("%d bytes unpack to %d", info.Size(), sum),
			Mend: say.Of("this looks made to fill the memory; ask for the plain folder"),
		}
	}
	return p.findPrefix(path)
}

// admit takes one entry into the index.
func (p *packed) admit(path string, entry *zip.File) error {
	where := path + ": " + clip(entry.Name)
	mode := entry.Mode()
	if what, mend := pathFault(strings.TrimSuffix(entry.Name, "/")); !what.IsZero() || entry.Name == "" {
		return Fault{Where: path, What: say.F("packed in it: %s", what), Mend: mend}
	}
	switch {
	case mode.IsDir():
		return nil
	case !mode.IsRegular():
		return Fault{Where: where, What: say.Of("packed as a link or device"), Mend: say.Of("pack the file itself")}
	case entry.UncompressedSize64 > MaxFileBytes:
		return Fault{Where: where, What: say.F("unpacks to %d bytes, more than %d", entry.UncompressedSize64, MaxFileBytes), Mend: say.Of("export a coarser envelope")}
	case entry.Flags&encrypted != 0:
		return Fault{Where: where, What: say.Of("packed with a password"), Mend: say.Of("pack it without")}
	case p.entries[entry.Name] != nil:
		return Fault{Where: where, What: say.Of("packed twice"), Mend: say.Of("pack the layout folder again")}
	}
	fold := strings.ToLower(entry.Name)
	if other, taken := p.folded[fold]; taken {
		return Fault{
			Where: where, What: say.F("differs from %s in nothing but capitals", clip(other)),
			Mend: say.Of("rename one: some disks would keep only one of them"),
		}
	}
	p.entries[entry.Name], p.folded[fold] = entry, entry.Name
	p.list = append(p.list, entry)
	return nil
}

// encrypted is the flag of an entry that needs a password.
//
// Source: .ZIP File Format Specification 6.3, 4.4.4, from memory.
const encrypted = 1

// metered reads no more than leftBytes bytes until it is free; less than 0 are
// left once more was asked for.
type metered struct {
	r         io.ReaderAt
	leftBytes int64
	free      bool
}

func (m *metered) ReadAt(data []byte, at int64) (int, error) {
	if m.free {
		return m.r.ReadAt(data, at)
	}
	if m.leftBytes -= int64(len(data)); m.leftBytes < 0 {
		return 0, io.ErrUnexpectedEOF
	}
	return m.r.ReadAt(data, at)
}

// findPrefix looks for the layout file at the top, else in the one folder
// that was packed as a whole.
func (p *packed) findPrefix(path string) error {
	if p.entries[FileName] != nil {
		return nil
	}
	found := 0
	for name := range p.entries {
		if top, rest, _ := strings.Cut(name, "/"); rest == FileName {
			p.prefix = top + "/"
			found++
		}
	}
	if found != 1 {
		return Fault{Where: path, What: say.F("no %s packed in it", FileName), Mend: say.Of("pack the layout folder again")}
	}
	return nil
}

func (p *packed) stat(rel string) (fs.FileInfo, error) {
	entry := p.entries[p.prefix+rel]
	if entry == nil {
		return nil, fs.ErrNotExist
	}
	return entry.FileInfo(), nil
}

func (p *packed) open(rel string) (io.ReadCloser, error) {
	entry := p.entries[p.prefix+rel]
	if entry == nil {
		return nil, fs.ErrNotExist
	}
	return entry.Open()
}
