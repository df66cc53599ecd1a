package review

import (
	"strconv"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// addKeys takes the keys of the window that no field takes.
func (w *Window) addKeys() {
	c := w.win.Canvas()
	c.SetOnTypedKey(w.key)
	c.SetOnTypedRune(w.letter)
	c.AddShortcut(&fyne.ShortcutUndo{}, func(fyne.Shortcut) { w.host.Undo() })
	c.AddShortcut(&fyne.ShortcutRedo{}, func(fyne.Shortcut) { w.host.Redo() })
	c.AddShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyW, Modifier: fyne.KeyModifierShortcutDefault}, func(fyne.Shortcut) { w.Close() })
}

// key handles a key without a letter.
func (w *Window) key(e *fyne.KeyEvent) {
	switch e.Name {
	case fyne.KeyRight, fyne.KeyPageDown, fyne.KeySpace:
		w.turn(w.review.At + 1)
	case fyne.KeyLeft, fyne.KeyPageUp, fyne.KeyBackspace:
		w.turn(w.review.At - 1)
	case fyne.KeyDown, fyne.KeyUp:
		w.summary.scroll(e.Name == fyne.KeyDown)
	case fyne.KeyHome:
		w.turn(0)
	case fyne.KeyEnd:
		w.turn(len(w.review.Keys))
	case fyne.KeyReturn, fyne.KeyEnter:
		if n, err := strconv.Atoi(w.typed); err == nil && n > 0 {
			w.turn(n - 1)
		}
		w.typed = ""
	case fyne.KeyF11:
		w.whole()
	case fyne.KeyF1:
		w.showHelp()
	case fyne.KeyEscape:
		w.escape()
	}
}

// letter handles a letter or digit.
func (w *Window) letter(r rune) {
	r = unicode.ToLower(r)
	if unicode.IsDigit(r) {
		w.typed += string(r)
		w.slide.place.say("to " + w.typed)
		return
	}
	if w.typed != "" {
		w.typed = ""
		w.slide.place.say(w.review.Place())
	}
	focus := func(f *field) {
		if w.review.Key() != "" {
			w.win.Canvas().Focus(f)
		}
	}
	switch r {
	case 'w':
		focus(w.slide.bar.owner)
	case 'd':
		focus(w.slide.bar.due)
	case 'n':
		focus(w.slide.bar.notes)
	case 'p':
		w.slide.swap()
	case 't':
		w.review.Rest(w.host.Now())
		w.Tick()
	case 'f':
		w.whole()
	case '?':
		w.showHelp()
	}
	for k, key := range stateKeys {
		if r == key && w.review.Key() != "" {
			w.slide.bar.state(k)
		}
	}
}

// whole fills the screen that the window is on, or gives it back.
func (w *Window) whole() { w.win.SetFullScreen(!w.win.FullScreen()) }

func (w *Window) showHelp() {
	w.help.Hidden = !w.help.Hidden
	w.room.Refresh()
}

// escape puts away what is in front: the keys, the whole screen, the window.
func (w *Window) escape() {
	switch {
	case !w.help.Hidden:
		w.showHelp()
	case w.win.FullScreen():
		w.whole()
	default:
		w.Close()
	}
}
