package layout

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// FileName is the layout file inside its folder; PackedExt ends the name of a
// folder packed into one file.
const (
	FileName  = "layout.json"
	PackedExt = ".aftbay"
)

// MaxFileBytes is the largest mesh or table that is read: a binary STL of ten
// million facets.
const MaxFileBytes = 512 << 20

// believedBytes is what is allocated at once for a packed file, whatever size
// the archive says; the rest follows as it comes out.
const believedBytes = 1 << 20

// Folder gives the files of an open layout and no others. It may be used from
// several goroutines.
type Folder struct {
	path   string
	root   *disk.Root        // of a plain folder, else nil
	packed *packed           // of a packed file, else nil
	mapped map[string]string // where files lie that are not at their own path; see OpenMapped

	mu     sync.Mutex       // guards what follows
	later  []*packed        // the packed file as it was after each Add
	was    memory           // what the mesh files held when the layout was saved
	wasErr error            // why that can't be read
	prints map[string]known // of the files read so far
}

// known is the print of a file and what tells whether it still holds.
type known struct {
	print   Print
	changed time.Time
}

// Open reads the layout at path: a layout folder, its layout.json or a packed
// .aftbay file. Faults in the document come back as Faults. The folder must be
// closed by the caller.
func Open(path string) (*Document, *Folder, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, unreadable(path, err, say.Of("give a layout folder, its layout.json or an .aftbay file"))
	}
	f := &Folder{path: path}
	name := FileName
	switch {
	case info.IsDir():
		f.root, err = disk.At(path)
	case !info.Mode().IsRegular():
		err = Fault{Where: path, What: say.Of("neither a folder nor a plain file"), Mend: say.Of("give a layout folder, its layout.json or an .aftbay file")}
	case strings.EqualFold(filepath.Ext(path), PackedExt):
		f.packed, err = openPacked(path)
	default:
		f.path, name = filepath.Dir(path), filepath.Base(path)
		f.root, err = disk.At(f.path)
	}
	if err != nil {
		return nil, nil, err
	}
	doc, err := f.document(name)
	if err != nil {
		return nil, nil, errors.Join(err, f.Close())
	}
	f.recall()
	return doc, f, nil
}

func (f *Folder) document(name string) (*Document, error) {
	data, err := f.read(name, MaxDocumentBytes)
	if err != nil {
		return nil, err
	}
	return Decode(data, filepath.Join(f.path, name))
}

// Path returns the folder, or the packed file, that is open.
func (f *Folder) Path() string { return f.path }

// Packed reports whether that is a packed file.
func (f *Folder) Packed() bool { return f.packed != nil }

// Close lets go of the folder.
func (f *Folder) Close() error {
	if f.packed == nil {
		return f.root.Close()
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	err := f.packed.file.Close()
	for _, p := range f.later {
		err = errors.Join(err, p.file.Close())
	}
	return err
}

// ReadFile returns a file of the folder. rel is written with / and must stay
// inside, also through links. The error is a Fault that names the file.
func (f *Folder) ReadFile(rel string) ([]byte, error) {
	if what, mend := pathFault(rel); !what.IsZero() {
		return nil, Fault{Where: rel, What: what, Mend: mend}
	}
	return f.read(rel, MaxFileBytes)
}

// ReadPrinted is ReadFile with the print of what was read.
func (f *Folder) ReadPrinted(rel string) ([]byte, Print, error) {
	info, err := f.Stat(rel)
	if err != nil {
		return nil, Print{}, err
	}
	data, err := f.ReadFile(rel)
	if err != nil {
		return nil, Print{}, err
	}
	p := PrintOf(data)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.prints == nil {
		f.prints = map[string]known{}
	}
	f.prints[rel] = known{p, info.ModTime()}
	return data, p, nil
}

// printOf returns the print of a file, which is read only if it wasn't yet or
// has changed since.
func (f *Folder) printOf(rel string) (Print, error) {
	info, err := f.Stat(rel)
	if err != nil {
		return Print{}, err
	}
	f.mu.Lock()
	k, read := f.prints[rel]
	f.mu.Unlock()
	if read && k.print.Bytes == info.Size() && k.changed.Equal(info.ModTime()) {
		return k.print, nil
	}
	_, p, err := f.ReadPrinted(rel)
	return p, err
}

// Stat returns size and time of a file, which tell whether it has changed.
func (f *Folder) Stat(rel string) (fs.FileInfo, error) {
	if what, mend := pathFault(rel); !what.IsZero() {
		return nil, Fault{Where: rel, What: what, Mend: mend}
	}
	var info fs.FileInfo
	var err error
	if f.packed != nil {
		info, err = f.archive(rel).stat(rel)
	} else {
		info, err = f.root.Stat(f.at(rel))
	}
	if err != nil {
		return nil, unreadable(rel, err, say.Of("check the name; capitals count"))
	}
	return info, nil
}

// read returns a file of at most mostBytes.
func (f *Folder) read(rel string, mostBytes int64) ([]byte, error) {
	info, err := f.Stat(rel)
	if err != nil {
		return nil, err
	}
	switch {
	case !info.Mode().IsRegular(): // a pipe would wait for ever
		return nil, Fault{Where: rel, What: say.Of("no plain file"), Mend: say.Of("put a file there")}
	case info.Size() > mostBytes:
		return nil, tooLarge(rel, info.Size(), mostBytes)
	}
	file, err := f.open(rel)
	if err != nil {
		return nil, unreadable(rel, err, say.Of("check the file"))
	}
	firstBytes, most := info.Size(), mostBytes
	if f.packed != nil { // its size is only what the archive says
		firstBytes, most = min(firstBytes, believedBytes), firstBytes
	}
	data, err := disk.ReadUpTo(file, firstBytes, most)
	if err := errors.Join(err, file.Close()); err != nil {
		return nil, unreadable(rel, err, say.Of("check the file, or pack the layout folder again"))
	}
	if f.packed != nil && int64(len(data)) != info.Size() {
		return nil, Fault{Where: rel, What: say.Of("doesn't unpack to the size that the archive says"), Mend: say.Of("pack the layout folder again")}
	}
	if int64(len(data)) > mostBytes {
		return nil, tooLarge(rel, int64(len(data)), mostBytes)
	}
	return data, nil
}

func (f *Folder) open(rel string) (io.ReadCloser, error) {
	if f.packed != nil {
		return f.archive(rel).open(rel)
	}
	return f.root.Open(f.at(rel))
}

func tooLarge(rel string, sizeBytes, mostBytes int64) Fault {
	return Fault{
		Where: rel, What: say.F("the file has %d bytes, more than the %d that are read", sizeBytes, mostBytes),
		Mend: say.Of("export a coarser envelope"),
	}
}

// unreadable words an error of the file system.
func unreadable(where string, err error, mend say.Text) error {
	var fault Fault
	var pe *fs.PathError
	switch {
	case errors.As(err, &fault):
		return err
	case errors.Is(err, fs.ErrNotExist):
		return Fault{Where: where, What: say.Of("there is no such file"), Mend: mend}
	case errors.Is(err, fs.ErrPermission):
		return Fault{Where: where, What: say.Of("the file may not be read"), Mend: say.Of("ask for the permission")}
	case errors.As(err, &pe) && strings.Contains(pe.Err.Error(), "escapes"):
		return Fault{Where: where, What: say.Of("a link leads out of the layout folder"), Mend: say.Of("put the file itself in the layout folder")}
	case errors.As(err, &pe):
		return Fault{Where: where, What: say.Words(pe.Err), Mend: mend}
	}
	return Fault{Where: where, What: say.Words(err), Mend: mend}
}
