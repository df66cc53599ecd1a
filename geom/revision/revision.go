package revision

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// Dir is the folder of revisions inside a layout folder.
const Dir = "revisions"

// What revision.json says of itself, and how large it may be.
const (
	format       = "aftbay-revision"
	version      = 1
	recordName   = "revision.json"
	maxRecord    = 4 << 20
	maxRevisions = 10_000
)

// Note is why a revision is kept.
type Note struct {
	Name   string // such as B; the number stands for an empty one
	Reason string
	At     time.Time
}

// Revision is one that is kept.
type Revision struct {
	Format  string    `json:"format"`
	Version int       `json:"version"`
	Number  int       `json:"number"`
	Name    string    `json:"name"`
	Reason  string    `json:"reason"`
	At      time.Time `json:"at"`
	Title   string    `json:"title"`
	Files   []File    `json:"files"`

	Folder string `json:"-"` // inside the layout folder, with /
}

// File is one file that the layout named, and what it held.
type File struct {
	Path   string `json:"path"`
	SHA256 string `json:"sha256"`
	Bytes  int64  `json:"bytes"`
}

// kept returns where the content of a file lies inside the layout folder.
func (f File) kept() string { return Dir + "/files/" + f.SHA256 + strings.ToLower(path.Ext(f.Path)) }

// Label names a revision for a reader.
func (r *Revision) Label() string {
	if number := fmt.Sprint(r.Number); r.Name != number {
		return fmt.Sprintf("%s (no. %d)", r.Name, r.Number)
	}
	return "no. " + r.Name
}

// Keep writes the document, and the files that it names in from, as a new
// revision into the folder of d.
func Keep(d disk.Disk, doc *layout.Document, from *layout.Folder, n Note) (*Revision, error) {
	if strings.TrimSpace(n.Reason) == "" {
		return nil, say.New("a revision needs a reason: say in a few words why it is kept")
	}
	if err := layout.Check(doc); err != nil {
		return nil, err
	}
	text, err := layout.Encode(doc)
	if err != nil {
		return nil, err
	}
	old, err := List(d)
	if err != nil {
		return nil, err
	}
	r := &Revision{Format: format, Version: version, Number: 1, Name: strings.TrimSpace(n.Name), Reason: strings.TrimSpace(n.Reason), At: n.At.UTC(), Title: doc.Title}
	if len(old) > 0 {
		r.Number = old[len(old)-1].Number + 1
	}
	if r.Name == "" {
		r.Name = fmt.Sprint(r.Number)
	}
	r.Folder = fmt.Sprintf("%s/%03d-%s", Dir, r.Number, slug(r.Name))
	for _, rel := range doc.Files() {
		f, err := keepFile(d, from, rel)
		if err != nil {
			return nil, err
		}
		r.Files = append(r.Files, f)
	}
	return r, r.write(d, text)
}

// write puts the layout file into the revision's folder, then the record.
func (r *Revision) write(d disk.Disk, text []byte) error {
	record, err := json.MarshalIndent(r, "", "  ")
	if err != nil {
		return say.Errorf("revision: %w", err)
	}
	if err := d.MkdirAll(r.Folder, 0o755); err != nil {
		return say.Errorf("%s: the folder can't be made: %w", r.Folder, err)
	}
	if err := disk.Replace(d, r.Folder+"/"+layout.FileName, text, disk.Options{}); err != nil {
		return err
	}
	return disk.Replace(d, r.Folder+"/"+recordName, append(record, '\n'), disk.Options{})
}

// keepFile copies a file's content to where contents are kept, once.
func keepFile(d disk.Disk, from *layout.Folder, rel string) (File, error) {
	data, print, err := from.ReadPrinted(rel)
	if err != nil {
		return File{}, err
	}
	f := File{Path: rel, SHA256: fmt.Sprintf("%x", print.SHA256), Bytes: print.Bytes}
	if info, err := d.Lstat(f.kept()); err == nil && info.Mode().IsRegular() && info.Size() == f.Bytes {
		return f, nil
	}
	if err := d.MkdirAll(path.Dir(f.kept()), 0o755); err != nil {
		return f, say.Errorf("%s: its folder can't be made: %w", f.kept(), err)
	}
	return f, disk.Replace(d, f.kept(), data, disk.Options{})
}

// slug makes a name fit for a folder: small letters, digits, hyphens.
func slug(name string) string {
	const most = 40
	word := strings.Map(func(r rune) rune {
		if r <= unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return unicode.ToLower(r)
		}
		return '-'
	}, name)
	word = strings.Trim(word, "-")
	if len(word) > most {
		word = strings.TrimRight(word[:most], "-")
	}
	if word == "" {
		return "revision"
	}
	return word
}

// List returns the revisions in the folder of d, oldest first. A folder without
// a whole record is none.
func List(d disk.Disk) ([]Revision, error) {
	entries, err := d.ReadDir(Dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, say.Errorf("%s: the folder can't be read: %w", Dir, err)
	}
	var list []Revision
	for _, e := range entries {
		if !e.IsDir() || len(list) >= maxRevisions {
			continue
		}
		if r, err := read(d, Dir+"/"+e.Name()); err == nil {
			list = append(list, *r)
		}
	}
	slices.SortStableFunc(list, func(a, b Revision) int { return a.Number - b.Number })
	return list, nil
}

// read reads the record of a revision and checks that it leads nowhere else.
func read(d disk.Disk, folder string) (*Revision, error) {
	data, err := disk.Read(d, folder+"/"+recordName, maxRecord)
	if err != nil {
		return nil, err
	}
	r := &Revision{}
	if err := json.Unmarshal(data, r); err != nil {
		return nil, say.Errorf("%s/%s: not readable: %w", folder, recordName, err)
	}
	if r.Format != format || r.Version != version {
		return nil, say.Errorf("%s/%s: format %.40q version %d is not what this program reads", folder, recordName, r.Format, r.Version)
	}
	for _, f := range r.Files {
		if len(f.SHA256) != 64 || strings.Trim(f.SHA256, "0123456789abcdef") != "" || strings.ContainsAny(path.Ext(f.Path), `/\:`) {
			return nil, say.Errorf("%s/%s: %.80q has no sum that could be one", folder, recordName, f.Path)
		}
	}
	r.Folder = folder
	return r, nil
}

// Open reads the layout of a revision, with its files as they were. path is the
// revision's folder, revisions/NNN-NAME inside a layout folder. The folder that
// is returned must be closed by the caller.
func Open(path string) (*layout.Document, *layout.Folder, *Revision, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return nil, nil, nil, err
	}
	dir := filepath.Dir(filepath.Dir(full))
	if filepath.Base(filepath.Dir(full)) != Dir {
		return nil, nil, nil, say.Errorf("%s: no revision: give a folder %s/NNN-NAME inside a layout folder", path, Dir)
	}
	root, err := disk.At(dir)
	if err != nil {
		return nil, nil, nil, err
	}
	r, err := read(root, Dir+"/"+filepath.Base(full))
	if err := errors.Join(err, root.Close()); err != nil {
		return nil, nil, nil, err
	}
	doc, folder, err := r.open(dir)
	return doc, folder, r, err
}

func (r *Revision) open(dir string) (*layout.Document, *layout.Folder, error) {
	files := map[string]string{}
	for _, f := range r.Files {
		files[f.Path] = f.kept()
	}
	return layout.OpenMapped(dir, r.Folder+"/"+layout.FileName, files)
}

// Restored returns the document of a revision for use in the layout folder dir:
// a file that holds something else by now, or is gone, is named by its kept
// copy. now is that folder, open.
func (r *Revision) Restored(dir string, now *layout.Folder) (*layout.Document, error) {
	doc, folder, err := r.open(dir)
	if err != nil {
		return nil, err
	}
	if err := folder.Close(); err != nil {
		return nil, err
	}
	at := map[string]string{}
	for _, f := range r.Files {
		at[f.Path] = f.Path
		if _, print, err := now.ReadPrinted(f.Path); err != nil || fmt.Sprintf("%x", print.SHA256) != f.SHA256 {
			at[f.Path] = f.kept()
		}
	}
	doc.RenameFiles(func(rel string) string {
		if to, ok := at[rel]; ok {
			return to
		}
		return rel
	})
	return doc, nil
}
