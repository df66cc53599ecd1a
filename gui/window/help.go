package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"
)

// keys lists what pointer and keys do; a line without a meaning is a heading.
// Read-only.
var keys = [][2]string{
	{"In the scene", ""},
	{"drag", "turn about the point under the pointer"},
	{"Shift or middle button, drag", "shift"},
	{"wheel, + and -", "zoom"},
	{"click", "select a part; with Shift or Control: add to the selection"},
	{"Control, drag a part", "take it along"},
	{"arrow, plate or arc at what is selected, drag", "move it along an axis, in a plane, turn it; with Shift in steps of 10 mm and 5°"},
	{"Control, drag the background", "select the parts within a box; with Shift anywhere: add them"},
	{"right click", "menu of the part"},
	{"1 to 7", "standard views"},
	{"F", "fit all"},
	{"P", "perspective or parallel"},
	{"H, G, I", "hide, see through, show only what is selected"},
	{"A", "show all parts, none see-through"},
	{"C", "cut through the narrowest place of the finding, or take that cut away"},
	{"X, Y, Z", "cut across that axis, through the selected part or the middle"},
	{"letter of a cut", "drag: move the cut; click: flip it"},
	{"N", "remove all cuts"},
	{"M", "measure by clicks: corner, edge or point; Shift: face or axis; Control: whole part"},
	{"W", "distances of all that fails or is close, or of the selected parts"},
	{"D", "show or hide the measurements"},
	{"V", "what an eye sees in the mirror, in a corner; a click shows the other eye"},
	{"arrows, Page Up, Page Down", "move the selected part by 1 mm; with Shift 10 mm, with Alt 0.1 mm"},
	{"arrows, nothing selected", "turn"},
	{"Escape", "select nothing, back to the view before"},
	{"Everywhere", ""},
	{"F1", "these keys"},
	{"Tab, Shift+Tab", "next and previous field or button"},
	{"Control+1 to 6", "the six questions"},
	{"Control+O, Control+S", "open, save"},
	{"Control+I", "parts from STL files"},
	{"Control+Z, Control+Y", "undo, redo"},
	{"Control+E", "export the packet"},
	{"Control+R, Control+Shift+R", "keep a revision, revisions"},
	{"Control+arrow down, up", "next and previous row of the page"},
	{"Control+T", "review on the wall; ? tells its keys"},
	{"Control+L", "edit everything that the layout says, at what is selected"},
	{"Control+U, Control+K", "move until a gap is reached, place by three points"},
	{"Control+M", "handles to move and turn what is selected"},
	{"Control+D", "parts drawer"},
	{"Control+G, Control+B", "ghost all but the selected, bodywork solid"},
	{"Control+Q", "quit"},
}

// showKeys shows what pointer and keys do.
func (w *Window) showKeys() {
	rows := container.New(layout.NewFormLayout())
	for _, k := range keys {
		name, meaning := widget.NewLabel(k[0]), widget.NewLabel(k[1])
		name.TextStyle.Bold = k[1] == ""
		rows.Add(name)
		rows.Add(meaning)
	}
	d := dialog.NewCustom("Keys and pointer", "Close", container.NewVScroll(rows), w.win)
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(760, size.Width*0.9), size.Height*0.85))
	d.Show()
}
