package layout

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// MeshesName is the file beside the layout file that remembers what each mesh
// file held when the layout was saved or the mesh last accepted. A layout
// without one remembers nothing, and no mesh of it counts as changed.
const MeshesName = "meshes.json"

// What MeshesName says of itself, and how large it may be: some 200 bytes for
// each of ten thousand meshes.
const (
	meshesFormat   = "aftbay-meshes"
	meshesVersion  = 1
	maxMeshesBytes = 4 << 20
)

// Print is what tells whether a file has changed.
type Print struct {
	Bytes  int64
	SHA256 [sha256.Size]byte
}

// PrintOf returns the print of a file's content.
func PrintOf(data []byte) Print { return Print{int64(len(data)), sha256.Sum256(data)} }

// MeshChange is a mesh file that isn't what it was.
type MeshChange struct {
	File    string
	Was, Is Print
}

// Sentence says what happened and what to do about it.
func (c *MeshChange) Sentence() say.Text {
	how := say.F("%d bytes then, %d now", c.Was.Bytes, c.Is.Bytes)
	if c.Was.Bytes == c.Is.Bytes {
		how = say.Of("the same size, other content")
	}
	return say.F("%s has changed since the layout was saved (%s): accept it, or put the old file back", c.File, how)
}

// memory is what MeshesName holds: path inside the folder -> print.
type memory map[string]Print

// meshesFile and meshEntry are MeshesName as JSON.
type meshesFile struct {
	Format  string               `json:"format"`
	Version int                  `json:"version"`
	Files   map[string]meshEntry `json:"files"`
}

type meshEntry struct {
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256"`
}

// readMemory reads MeshesName. What it can't read is a fault, and nothing is
// remembered: the layout itself needs none of it.
func readMemory(data []byte) (memory, error) {
	mend := say.Of("remove the file; the next save writes it anew")
	var file meshesFile
	r := json.NewDecoder(bytes.NewReader(data))
	r.DisallowUnknownFields()
	if err := r.Decode(&file); err != nil {
		return nil, Fault{Where: MeshesName, What: say.F("not readable: %s", clip(err.Error())), Mend: mend}
	}
	if file.Format != meshesFormat || file.Version != meshesVersion {
		return nil, Fault{
			Where: MeshesName, What: say.F("format %q version %d isn't what this program reads", clip(file.Format), file.Version), Mend: mend,
		}
	}
	m := memory{}
	for rel, e := range file.Files {
		p := Print{Bytes: e.Bytes}
		sum, err := hex.DecodeString(e.SHA256)
		if err != nil || copy(p.SHA256[:], sum) != len(p.SHA256) || len(sum) != len(p.SHA256) {
			return nil, Fault{Where: MeshesName, What: say.F("%s: sha256 is no 64 hexadecimal digits", clip(rel)), Mend: mend}
		}
		m[rel] = p
	}
	return m, nil
}

// encode returns MeshesName's content: one file a line, sorted, so that a
// changed mesh is one changed line.
func (m memory) encode() ([]byte, error) {
	var out bytes.Buffer
	fmt.Fprintf(&out, "{\n  \"format\": %q,\n  \"version\": %d,\n  \"files\": {", meshesFormat, meshesVersion)
	for i, rel := range slices.Sorted(maps.Keys(m)) {
		key, err := json.Marshal(rel)
		if err != nil {
			return nil, say.Errorf("%s: %w", MeshesName, err)
		}
		end := ","
		if i == 0 {
			end = ""
		}
		fmt.Fprintf(&out, "%s\n    %s: {\"bytes\": %d, \"sha256\": \"%x\"}", end, key, m[rel].Bytes, m[rel].SHA256)
	}
	out.WriteString("\n  }\n}\n")
	return out.Bytes(), nil
}

// recall fills the folder's memory when it is opened.
func (f *Folder) recall() {
	if _, err := f.Stat(MeshesName); err != nil {
		return
	}
	data, err := f.read(MeshesName, maxMeshesBytes)
	if err == nil {
		f.was, err = readMemory(data)
	}
	f.wasErr = err
}

// MemoryFault returns why MeshesName could not be read, nil if it could or
// isn't there. The layout is of use without it.
func (f *Folder) MemoryFault() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.wasErr
}

// ChangeOf compares a mesh file as it is with what the folder remembers of it.
// It returns nil for one that is the same, or not remembered.
func (f *Folder) ChangeOf(rel string, is Print) *MeshChange {
	f.mu.Lock()
	defer f.mu.Unlock()
	was, known := f.was[rel]
	if !known || was == is {
		return nil
	}
	return &MeshChange{File: rel, Was: was, Is: is}
}

// Changed returns the mesh files of a document that are not what they were, by
// name. Files that were read already are not read again.
func (f *Folder) Changed(doc *Document) ([]*MeshChange, error) {
	var list []*MeshChange
	for _, rel := range doc.Meshes() {
		is, err := f.printOf(rel)
		if err != nil {
			return nil, err
		}
		if c := f.ChangeOf(rel, is); c != nil {
			list = append(list, c)
		}
	}
	return list, nil
}

// AcceptMeshes makes mesh files as they are now the ones that are remembered:
// those named, or all that the document uses if none is. In a plain folder that
// is written at once; a packed one remembers it when it is next saved.
func (f *Folder) AcceptMeshes(doc *Document, files ...string) error {
	if len(files) == 0 {
		files = doc.Meshes()
	}
	now := memory{}
	for _, rel := range files {
		is, err := f.printOf(rel)
		if err != nil {
			return err
		}
		now[rel] = is
	}
	f.mu.Lock()
	next := maps.Clone(f.was)
	if next == nil {
		next = memory{}
	}
	maps.Copy(next, now)
	f.mu.Unlock()
	if f.packed == nil && f.mapped == nil {
		if err := writeMemory(f.root, next); err != nil {
			return err
		}
	}
	f.mu.Lock()
	f.was, f.wasErr = next, nil
	f.mu.Unlock()
	return nil
}

// remembered returns what a saved copy of the document remembers: of each mesh
// what was remembered before, else what it is now. One that can't be read isn't
// remembered; it must not keep the layout from being saved.
func (f *Folder) remembered(doc *Document) memory {
	m := memory{}
	for _, rel := range doc.Meshes() {
		f.mu.Lock()
		was, known := f.was[rel]
		f.mu.Unlock()
		if !known {
			is, err := f.printOf(rel)
			if err != nil {
				continue
			}
			was = is
		}
		m[rel] = was
	}
	return m
}

// writeMemory puts MeshesName into a folder.
func writeMemory(d disk.Disk, m memory) error {
	data, err := m.encode()
	if err != nil || same(d, MeshesName, data) {
		return err
	}
	return disk.Replace(d, MeshesName, data, disk.Options{})
}
