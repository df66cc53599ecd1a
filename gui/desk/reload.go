package desk

import (
	"context"
	"errors"
	"os"
	"slices"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/gui/journal"
	"aftbay/gui/phrase"
)

// ErrChangedOutside means that a layout's file is not as the desk knows it:
// saving would write over somebody else's work.
var ErrChangedOutside = say.New("the layout's file was changed by another program since it was opened or saved here")

// errMeanwhile means that the layout was edited during a reload.
var errMeanwhile = say.New("the layout was edited while it was read again: reload once more")

// reloadName is the name of the edit that takes in what is on the disk. Read-only.
var reloadName = phrase.Of("reload from disk")

// Reload takes in the layout and its meshes as they are on the disk now. What
// changes in the layout is an edit: undo brings back what was on the desk.
func (d *Desk) Reload(ctx context.Context) error {
	d.mu.Lock()
	k, base, old := d.keep, d.base, d.text
	d.mu.Unlock()
	if k == nil {
		return ErrNothingOpen
	}
	var f files
	f.note(k.file)
	doc, folder, err := layout.Open(k.file)
	if err != nil {
		return err
	}
	f.noteAll(doc, folder)
	next := form{doc: doc}
	next.text, err = textOf(doc)
	if err == nil {
		next.base, err = scene.Build(ctx, doc, folder, base, scene.Options{Workers: d.workers})
	}
	if err != nil {
		return errors.Join(err, folder.Close())
	}
	return d.reloaded(k, old, next, folder, f)
}

// reloaded puts on the desk what was read again.
func (d *Desk) reloaded(k *keep, old journal.Text, next form, folder *layout.Folder, f files) error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.keep != k || !slices.Equal(d.text, old) {
		return errors.Join(errMeanwhile, folder.Close())
	}
	was := d.folder
	d.folder = folder
	shown, err := d.standing(next.doc, next.base, d.at)
	if err != nil {
		d.folder = was
		return errors.Join(err, folder.Close())
	}
	next.shown, next.at = shown, d.at
	switch {
	case k.held != nil: // nothing of ours to undo
		d.history = journal.History{}
	case !slices.Equal(next.text, d.text):
		d.ahead(journal.Edit, reloadName, next.text)
		d.history.Do(reloadName, d.text, next.text)
	}
	d.saved = next.text
	seen := k.outside
	k.files, k.outside = f, Outside{Free: k.outside.Free}
	d.become(next)
	err = was.Close()
	if wanted := meshesAmong(next.doc, seen.Files); k.held == nil && len(wanted) > 0 {
		err = errors.Join(err, folder.AcceptMeshes(next.doc, wanted...))
	}
	k.noteMeshes(next.doc, folder)
	return err
}

// meshesAmong returns those of some files that a document uses as meshes.
func meshesAmong(doc *layout.Document, files []string) []string {
	var out []string
	for _, rel := range doc.Meshes() {
		if slices.Contains(files, rel) {
			out = append(out, rel)
		}
	}
	return out
}

// KeepMine leaves what others have changed on the disk as it is and goes on:
// it is not told again, and the next save writes over the layout's file, of
// which a backup is kept.
func (d *Desk) KeepMine() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.keep == nil {
		return
	}
	k := d.keep
	k.accept()
	f := files{main: k.files.main, extra: map[string]known{}}
	for rel, file := range k.files.extra {
		file.changed = false
		f.extra[rel] = file
	}
	k.files, k.outside = f, Outside{Free: k.outside.Free}
	go d.listener()
}

// accept takes the layout's file as known, whatever it holds now.
func (k *keep) accept() {
	var f files
	f.note(k.file)
	k.files.main = f.main
}

// untouched returns ErrChangedOutside if the layout's file is not as known.
func (k *keep) untouched() error {
	if k.packed() && stampOf(os.Stat(k.file)).same(k.files.main.stamp) {
		return nil // it may be large
	}
	var now files
	now.note(k.file)
	if now.main.stamp.there && now.main.sum != k.files.main.sum {
		return ErrChangedOutside
	}
	return nil
}
