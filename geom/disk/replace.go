package disk

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"slices"
	"strings"

	"aftbay/geom/say"
)

// Options is how Replace treats the file that it replaces.
type Options struct {
	// Backup is where the old file is kept, once; "" keeps none.
	Backup string
	// Perm is the permission of a file that is new; 0 stands for 0644. One
	// that is replaced keeps its own.
	Perm fs.FileMode
}

// Replace writes a file whole. Whatever happens, either the old or the new one
// stands at rel, and the old or the older one at the backup. A file that is
// read-only, or that is a link, is not replaced. The error says whether the
// old or the new file stands.
func Replace(d Disk, rel string, data []byte, o Options) error {
	return ReplaceWith(d, rel, o, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// ReplaceWith is Replace for a file that is written piece by piece. An error of
// fill is returned as it is, and the old file stands.
func ReplaceWith(d Disk, rel string, o Options, fill func(io.Writer) error) error {
	old, err := replaceable(d, rel)
	if err != nil {
		return err
	}
	if old != nil && o.Backup != "" {
		if err := keep(d, rel, o.Backup, old); err != nil {
			return err
		}
	}
	if o.Perm == 0 {
		o.Perm = 0o644
	}
	if err := put(d, rel, old, o.Perm, fill); err != nil {
		return asFault(rel, say.Of("not written, all stands as it was"), err)
	}
	err = d.SyncDir(path.Dir(rel))
	if err == nil && old != nil && o.Backup != "" && path.Dir(o.Backup) != path.Dir(rel) {
		err = d.SyncDir(path.Dir(o.Backup))
	}
	if err != nil {
		return fault(rel, say.Of("written, but the disk doesn't confirm it"), err)
	}
	return nil
}

// replaceable returns what stands at rel, nil if nothing.
func replaceable(d Disk, rel string) (fs.FileInfo, error) {
	old, err := d.Lstat(rel)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, fault(rel, say.Of("not written, all stands as it was"), err)
	case old.Mode()&fs.ModeSymlink != 0:
		return nil, &Error{Where: rel, What: say.Of("not written: a link stands there"), Mend: say.Of("put the file itself in its place, or save elsewhere")}
	case !old.Mode().IsRegular():
		return nil, &Error{Where: rel, What: say.Of("not written: no plain file stands there"), Mend: say.Of("move it away, or save elsewhere")}
	case old.Mode().Perm()&0o200 == 0:
		return nil, &Error{Where: rel, What: say.Of("not written: the file is read-only"), Mend: say.Of("allow writing to it, or save elsewhere"), Err: fs.ErrPermission}
	}
	return old, nil
}

// keep copies the file at rel to its backup.
func keep(d Disk, rel, backup string, old fs.FileInfo) error {
	did := say.F("not written, the old file stands: it can't be kept as %s", backup)
	if _, err := replaceable(d, backup); err != nil {
		return err
	}
	from, err := d.Open(rel)
	if err != nil {
		return fault(rel, did, err)
	}
	err = put(d, backup, old, old.Mode().Perm(), func(w io.Writer) error {
		_, err := io.Copy(w, from)
		return err
	})
	if err := errors.Join(err, from.Close()); err != nil {
		return fault(rel, did, err)
	}
	return nil
}

// put writes beside rel, makes sure that it is on the disk, and puts it in its
// place in one step. It gets the permission of like, or perm if that is nil.
func put(d Disk, rel string, like fs.FileInfo, perm fs.FileMode, fill func(io.Writer) error) error {
	if like != nil {
		perm = like.Mode().Perm()
	}
	temp, f, err := create(d, rel, perm)
	if err != nil {
		return err
	}
	err = written(f, fill)
	if err == nil && like != nil {
		err = d.Chmod(temp, perm) // the user's mask may have taken some of it away
	}
	if err == nil {
		err = d.Rename(temp, rel)
	}
	if err != nil {
		_ = d.Remove(temp) // what remains is known by its name: see Tidy
	}
	return err
}

// written fills a file, brings it to the disk and closes it in any case.
func written(f File, fill func(io.Writer) error) error {
	err := fill(whole{f})
	if err == nil {
		err = f.Sync()
	}
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	return err
}

// whole turns a write that falls short without an error into one.
type whole struct{ f File }

func (w whole) Write(data []byte) (int, error) {
	n, err := w.f.Write(data)
	if err == nil && n < len(data) {
		err = io.ErrShortWrite
	}
	return n, err
}

// asFault words an error unless it has been worded already.
func asFault(rel string, did say.Text, err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	if errors.As(err, &pe) || errors.As(err, &le) || errors.Is(err, io.ErrShortWrite) {
		var told *Error
		if !errors.As(err, &told) {
			return fault(rel, did, err)
		}
	}
	return err
}

// tempExt ends the names of files that are being written, tempTries is how
// many names are tried: each one taken is left from a crash.
const (
	tempExt   = ".new"
	tempTries = 100
)

// create makes a new file beside rel under a name that no other program uses.
func create(d Disk, rel string, perm fs.FileMode) (string, File, error) {
	var err error
	for i := range tempTries {
		temp := path.Join(path.Dir(rel), fmt.Sprintf(".%s.%d-%d%s", path.Base(rel), os.Getpid(), i, tempExt))
		var f File
		if f, err = d.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, perm); err == nil {
			return temp, f, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			break
		}
	}
	return "", nil, err
}

// tempOf returns the file that was to be replaced when temp was written, false
// if temp is no name that create gives.
func tempOf(temp string) (rel string, ok bool) {
	name, hasExt := strings.CutSuffix(path.Base(temp), tempExt)
	dot := strings.LastIndexByte(name, '.')
	if !hasExt || dot < 2 || name[0] != '.' {
		return "", false
	}
	program, try, _ := strings.Cut(name[dot+1:], "-")
	if program == "" || try == "" || strings.Trim(program+try, "0123456789") != "" {
		return "", false
	}
	return path.Join(path.Dir(temp), name[1:dot]), true
}

// IsTemp reports whether a file, by its name, was being written when the
// program ended: it is no document and may be removed.
func IsTemp(rel string) bool {
	_, ok := tempOf(rel)
	return ok
}

// Tidy removes what a crash has left half written of these files, which all lie
// in one folder. Whoever calls it is sure that no other program is writing them.
func Tidy(d Disk, rels ...string) error {
	if len(rels) == 0 {
		return nil
	}
	dir := path.Dir(rels[0])
	list, err := d.ReadDir(dir)
	if err != nil {
		return fault(dir, say.Of("the folder can't be read"), err)
	}
	for _, e := range list {
		temp := path.Join(dir, e.Name())
		rel, ok := tempOf(temp)
		if !ok || !slices.Contains(rels, rel) || !e.Type().IsRegular() {
			continue
		}
		if err := d.Remove(temp); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fault(temp, say.Of("left from an earlier crash and can't be removed"), err)
		}
	}
	return nil
}
