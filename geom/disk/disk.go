package disk

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"aftbay/geom/say"
)

// Disk is the operations on files that the program needs, confined to one
// folder. Names are relative and written with /; "." is the folder itself.
type Disk interface {
	// OpenFile opens a file for writing; flag as in package os.
	OpenFile(rel string, flag int, perm fs.FileMode) (File, error)
	// Open opens a file for reading.
	Open(rel string) (io.ReadCloser, error)
	// Stat follows links that stay inside the folder, Lstat doesn't follow any.
	Stat(rel string) (fs.FileInfo, error)
	Lstat(rel string) (fs.FileInfo, error)
	// ReadDir lists a folder by name.
	ReadDir(rel string) ([]fs.DirEntry, error)
	Chmod(rel string, perm fs.FileMode) error
	// Rename puts a file in the place of another in one step.
	Rename(from, to string) error
	// Remove removes a file or an empty folder.
	Remove(rel string) error
	MkdirAll(rel string, perm fs.FileMode) error
	// SyncDir brings the names in a folder to the disk. Where the system can't
	// do that it does nothing.
	SyncDir(rel string) error
}

// File is a file open for writing.
type File interface {
	io.Writer
	// Truncate cuts the file to its first sizeBytes bytes.
	Truncate(sizeBytes int64) error
	// Sync brings what was written to the disk.
	Sync() error
	Close() error
}

// Root is the real disk, confined to one folder. It may be used from several
// goroutines.
type Root struct {
	root *os.Root
}

// At opens a folder that exists.
func At(dir string) (*Root, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fault(dir, say.Of("the folder can't be opened"), err)
	}
	return &Root{root: root}, nil
}

// Make opens a folder and makes it first if it isn't there.
func Make(dir string) (*Root, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fault(dir, say.Of("the folder can't be made"), err)
	}
	return At(dir)
}

// Path returns the folder.
func (r *Root) Path() string { return r.root.Name() }

// Close lets go of the folder.
func (r *Root) Close() error { return r.root.Close() }

// OpenFile implements Disk.
func (r *Root) OpenFile(rel string, flag int, perm fs.FileMode) (File, error) {
	f, err := r.root.OpenFile(filepath.FromSlash(rel), flag, perm)
	if err != nil {
		return nil, err // not f: a nil pointer in an interface isn't nil
	}
	return f, nil
}

// Open implements Disk.
func (r *Root) Open(rel string) (io.ReadCloser, error) {
	f, err := r.root.Open(filepath.FromSlash(rel))
	if err != nil {
		return nil, err
	}
	return f, nil
}

// Stat implements Disk.
func (r *Root) Stat(rel string) (fs.FileInfo, error) { return r.root.Stat(filepath.FromSlash(rel)) }

// Lstat implements Disk.
func (r *Root) Lstat(rel string) (fs.FileInfo, error) { return r.root.Lstat(filepath.FromSlash(rel)) }

// ReadDir implements Disk.
func (r *Root) ReadDir(rel string) ([]fs.DirEntry, error) { return fs.ReadDir(r.root.FS(), rel) }

// Chmod implements Disk.
func (r *Root) Chmod(rel string, perm fs.FileMode) error {
	return r.root.Chmod(filepath.FromSlash(rel), perm)
}

// Rename implements Disk.
func (r *Root) Rename(from, to string) error {
	return r.root.Rename(filepath.FromSlash(from), filepath.FromSlash(to))
}

// Remove implements Disk.
func (r *Root) Remove(rel string) error { return r.root.Remove(filepath.FromSlash(rel)) }

// MkdirAll implements Disk.
func (r *Root) MkdirAll(rel string, perm fs.FileMode) error {
	return r.root.MkdirAll(filepath.FromSlash(rel), perm)
}

// SyncDir implements Disk.
func (r *Root) SyncDir(rel string) error {
	folder, err := r.root.Open(filepath.FromSlash(rel))
	if err != nil {
		return err
	}
	err = folder.Sync()
	if cannotSync(err) {
		err = nil
	}
	return errors.Join(err, folder.Close())
}

// Read returns a plain file of at most mostBytes bytes; a file that is larger,
// or that grows beyond that while it is read, is refused.
func Read(d Disk, rel string, mostBytes int64) ([]byte, error) {
	did := say.Of("the file can't be read")
	info, err := d.Stat(rel)
	switch {
	case err != nil:
		return nil, fault(rel, did, err)
	case !info.Mode().IsRegular(): // a pipe would wait for ever
		return nil, &Error{Where: rel, What: say.Of("no plain file"), Mend: say.Of("put a file there")}
	case info.Size() > mostBytes:
		return nil, tooLarge(rel, info.Size(), mostBytes)
	}
	f, err := d.Open(rel)
	if err != nil {
		return nil, fault(rel, did, err)
	}
	data, err := ReadUpTo(f, info.Size(), mostBytes)
	if err := errors.Join(err, f.Close()); err != nil {
		return nil, fault(rel, did, err)
	}
	if int64(len(data)) > mostBytes {
		return nil, tooLarge(rel, int64(len(data)), mostBytes)
	}
	return data, nil
}

// ReadUpTo reads to the end, and at most one byte more than allowed, so that a
// file that grows or lies about its size is noticed. sizeBytes is what it is
// thought to hold.
func ReadUpTo(r io.Reader, sizeBytes, mostBytes int64) ([]byte, error) {
	data := make([]byte, 0, sizeBytes+1)
	limited := io.LimitReader(r, mostBytes+1)
	for {
		n, err := limited.Read(data[len(data):cap(data)])
		data = data[:len(data)+n]
		if errors.Is(err, io.EOF) {
			return data, nil
		}
		if err != nil {
			return nil, err
		}
		if len(data) == cap(data) {
			data = append(data, 0)[:len(data)]
		}
	}
}

func tooLarge(rel string, sizeBytes, mostBytes int64) error {
	return &Error{
		Where: rel, What: say.F("the file has %d bytes, more than the %d that are read", sizeBytes, mostBytes),
		Mend: say.Of("this is not a file that the program wrote; put the right one there"),
	}
}
