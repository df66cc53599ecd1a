package desk

import (
	"strings"

	"aftbay/geom/layout"
	"aftbay/gui/phrase"
)

// Act is what can be done about a notice.
type Act int

// Acts that a notice offers.
const (
	ActReload Act = iota
	ActKeepMine
	ActSaveCopy
	ActTakeOver
	ActUnderstood
	ActAccept
)

// String returns what the act's button says.
func (a Act) String() string {
	return [...]string{phrase.Of("Reload"), phrase.Of("Keep mine"), phrase.Of("Save a copy…"), phrase.Of("Work on it here"), phrase.Of("Understood"), phrase.Of("Accept")}[a]
}

// Notice is something about the files of the layout that one must know: a
// sentence and what can be done. An empty text is none.
type Notice struct {
	Text string
	Acts []Act
}

// notice returns the most pressing one; the lock is held.
func (k *keep) notice() Notice {
	if k == nil {
		return Notice{}
	}
	o := k.outside
	switch {
	case o.Free:
		return Notice{phrase.Of("The other window has let go of this layout."), []Act{ActTakeOver}}
	case o.Gone:
		return Notice{phrase.Of("The layout's file is not on the disk any more. Saving writes it again."), []Act{ActKeepMine}}
	case o.any():
		return Notice{o.text(k.held != nil), o.acts(k.held != nil)}
	case k.held != nil:
		return Notice{phrase.Of("Read-only: this layout is ") + phrase.Err(k.held) + ".", []Act{ActSaveCopy}}
	case k.told != "":
		return Notice{k.told, []Act{ActUnderstood}}
	case len(k.meshes) > 0 && k.held == nil:
		return Notice{meshesText(k.meshes), []Act{ActAccept}}
	case k.fault != "":
		return Notice{phrase.Of("Unsaved edits are not safe against a crash, save often: ") + k.fault, nil}
	}
	return Notice{}
}

// mostNamed is how many files a notice names.
const mostNamed = 3

func (o Outside) text(readOnly bool) string {
	var what []string
	if o.Layout {
		what = append(what, phrase.Of("the layout"))
	}
	for i, rel := range o.Files {
		if i == mostNamed && len(o.Files) > mostNamed+1 {
			what = append(what, phrase.F("%d more files", len(o.Files)-i))
			break
		}
		what = append(what, rel)
	}
	text := phrase.Of("Changed on the disk by another program: ") + strings.Join(what, ", ") + "."
	if o.Layout && !readOnly {
		text += phrase.Of(" Reloading can be undone.")
	}
	return text
}

func (o Outside) acts(readOnly bool) []Act {
	if readOnly {
		return []Act{ActReload}
	}
	return []Act{ActReload, ActKeepMine}
}

// meshesText says which meshes are not what they were at the last save.
func meshesText(said []string) string {
	if len(said) == 1 {
		return said[0] + "."
	}
	return phrase.F("%s. So have %d more.", said[0], len(said)-1)
}

// AcceptMeshes makes the meshes as they are now the ones that are remembered.
func (d *Desk) AcceptMeshes() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if err := d.keep.refuses(); err != nil || d.keep == nil {
		return err
	}
	if err := d.folder.AcceptMeshes(d.doc); err != nil {
		return err
	}
	d.keep.meshes = nil
	go d.listener()
	return nil
}

// noteMeshes notes which meshes have changed since the layout was saved.
func (k *keep) noteMeshes(doc *layout.Document, folder *layout.Folder) {
	k.meshes = nil
	list, err := folder.Changed(doc)
	if err != nil {
		return // a mesh that can't be read has been told already
	}
	for _, c := range list {
		k.meshes = append(k.meshes, phrase.Say(c.Sentence()))
	}
}

// Understood puts away what was told once.
func (d *Desk) Understood() {
	d.mu.Lock()
	if d.keep != nil {
		d.keep.told = ""
	}
	d.mu.Unlock()
	d.listener()
}
