package desk

import (
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"io/fs"
	"os"
	"slices"
	"time"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/claim"
)

// Outside is what others have done to an open layout on the disk.
type Outside struct {
	Layout bool     // its file was changed
	Gone   bool     // its file is not there any more
	Files  []string // meshes and tables that were changed or removed
	Free   bool     // the window that held it has let go
}

// any reports whether something was changed.
func (o Outside) any() bool { return o.Layout || o.Gone || len(o.Files) > 0 }

func (o Outside) same(p Outside) bool {
	return o.Layout == p.Layout && o.Gone == p.Gone && o.Free == p.Free && slices.Equal(o.Files, p.Files)
}

// errNoFile means that something else stands where a file should.
var errNoFile = say.New("no plain file")

// stamp tells cheaply whether a file may have changed.
type stamp struct {
	there     bool
	sizeBytes int64
	changed   time.Time
}

func stampOf(info fs.FileInfo, err error) stamp {
	if err != nil {
		return stamp{}
	}
	return stamp{true, info.Size(), info.ModTime()}
}

func (s stamp) same(o stamp) bool {
	return s.there == o.there && s.sizeBytes == o.sizeBytes && s.changed.Equal(o.changed)
}

// digest tells for sure.
type digest = [sha256.Size]byte

// known is what is known of one file.
type known struct {
	stamp   stamp
	sum     digest
	changed bool // since it was read
}

// files is what is known of a layout's files. It is replaced, not changed.
type files struct {
	main  known // the layout's file
	extra map[string]known
}

// note takes the layout's file as it is.
func (f *files) note(path string) {
	f.main = known{stamp: stampOf(os.Stat(path))}
	if f.main.stamp.there {
		f.main.sum, _ = sumOf(path) // unreadable: opening says so
	}
}

// sumOf reads a plain file; anything else, such as a pipe, would wait for ever.
func sumOf(path string) (digest, error) {
	info, err := os.Stat(path)
	if err != nil {
		return digest{}, err
	}
	if !info.Mode().IsRegular() {
		return digest{}, errNoFile
	}
	file, err := os.Open(path)
	if err != nil {
		return digest{}, err
	}
	h := sha256.New()
	_, err = io.Copy(h, io.LimitReader(file, layout.MaxFileBytes))
	return digest(h.Sum(nil)), errors.Join(err, file.Close())
}

// noteAll takes the files that a document names as they are. Their sums come
// from the scene where that has read them.
func (f *files) noteAll(doc *layout.Document, folder *layout.Folder) {
	f.extra = map[string]known{}
	hashed := map[string]bool{}
	for i := range doc.Parts {
		hashed[doc.Parts[i].Mesh] = true
	}
	for i := range doc.Spots {
		hashed[doc.Spots[i].Mesh] = true
	}
	for _, rel := range doc.Files() {
		file := known{stamp: stampOf(folder.Stat(rel))}
		if !hashed[rel] { // tables and alternatives: the scene keeps no sum of them
			if data, err := folder.ReadFile(rel); err == nil {
				file.sum = sha256.Sum256(data)
			}
		}
		f.extra[rel] = file
	}
}

// watch looks at the disk now and then until ctx ends.
func (d *Desk) watch(ctx context.Context) {
	tick := time.NewTicker(d.system.every)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
			d.LookAtDisk()
		}
	}
}

// LookAtDisk notices what others have done to the files of the open layout. It
// is called every two seconds, and may be called by whoever comes back to it.
func (d *Desk) LookAtDisk() {
	d.mu.Lock()
	k, doc, folder, base := d.keep, d.doc, d.folder, d.base
	if k == nil || doc == nil {
		d.mu.Unlock()
		return
	}
	was, held := k.files, k.held
	d.mu.Unlock()

	now := files{main: lookAgain(was.main, stampOf(os.Stat(k.file)), func() (digest, error) { return sumOf(k.file) }), extra: map[string]known{}}
	if !k.packed() { // one that is open stays as it was opened
		for _, rel := range doc.Files() {
			now.extra[rel] = lookAtFile(was.extra, rel, folder, base)
		}
	}
	out := Outside{Layout: now.main.changed && now.main.stamp.there, Gone: !now.main.stamp.there && now.main.changed}
	for rel, f := range now.extra {
		if f.changed {
			out.Files = append(out.Files, rel)
		}
	}
	slices.Sort(out.Files)
	out.Free = held != nil && k.free(d.system.now())

	d.mu.Lock()
	news := false
	if d.keep == k && d.folder == folder && sameFiles(k.files, was) {
		k.files = now
		news = !k.outside.same(out)
		k.outside = out
	}
	d.mu.Unlock()
	if news {
		d.listener()
	}
}

// sameFiles reports whether nobody has taken note of the files in between.
func sameFiles(a, b files) bool { return a.main == b.main && len(a.extra) == len(b.extra) }

// lookAgain judges a file by its stamp, and by its contents if that differs.
func lookAgain(was known, now stamp, contents func() (digest, error)) known {
	if now.same(was.stamp) {
		return was
	}
	if !now.there {
		return known{stamp: now, sum: was.sum, changed: true}
	}
	got, err := contents()
	return known{stamp: now, sum: was.sum, changed: err != nil || got != was.sum}
}

// lookAtFile judges a mesh or table. One that an edit has brought in is taken
// as the scene has read it.
func lookAtFile(was map[string]known, rel string, folder *layout.Folder, s *scene.Scene) known {
	f := was[rel]
	if f.sum == (digest{}) {
		f.sum = hashIn(s, rel)
	}
	return lookAgain(f, stampOf(folder.Stat(rel)), func() (digest, error) {
		data, err := folder.ReadFile(rel)
		return sha256.Sum256(data), err
	})
}

// hashIn returns the sum of a mesh file as a scene has read it.
func hashIn(s *scene.Scene, rel string) digest {
	for i := range s.Parts {
		if p := &s.Parts[i]; p.Route == nil && p.Layout.Mesh == rel {
			return p.Hash
		}
	}
	for i := range s.Spots {
		if s.Spots[i].Layout.Mesh == rel {
			return s.Spots[i].Hash
		}
	}
	return digest{}
}

// free reports whether a layout that another window held could be had now.
func (k *keep) free(now time.Time) bool {
	c, err := claim.Take(k.dir, k.lock(), now)
	if err != nil {
		return false
	}
	return c.Release() == nil
}
