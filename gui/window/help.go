package window

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/phrase"
)

// keys lists what pointer and keys do; a line without a meaning is a heading.
// Read-only.
var keys = [][2]string{
	{phrase.Of("In the scene"), ""},
	{"drag", phrase.Of("turn about the point under the pointer")},
	{phrase.Of("Shift or middle button, drag"), "shift"},
	{phrase.Of("wheel, + and -"), "zoom"},
	{"click", phrase.Of("select a part; with Shift or Control: add to the selection")},
	{phrase.Of("Control, drag a part"), phrase.Of("take it along")},
	{phrase.Of("arrow, plate or arc at what is selected, drag"), phrase.Of("move it along an axis, in a plane, turn it; with Shift in steps of 10 mm and 5°")},
	{phrase.Of("Control, drag the background"), phrase.Of("select the parts within a box; with Shift anywhere: add them")},
	{phrase.Of("right click"), phrase.Of("menu of the part")},
	{"1 to 7", phrase.Of("standard views")},
	{"F", phrase.Of("fit all")},
	{"P", phrase.Of("perspective or parallel")},
	{"H, G, I", phrase.Of("hide, see through, show only what is selected")},
	{"A", phrase.Of("show all parts, none see-through")},
	{"C", phrase.Of("cut through the narrowest place of the finding, or take that cut away")},
	{"X, Y, Z", phrase.Of("cut across that axis, through the selected part or the middle of the powertrain")},
	{phrase.Of("letter of a cut"), phrase.Of("drag: move the cut; click: flip it")},
	{"N", phrase.Of("remove all cuts")},
	{"M", phrase.Of("measure by clicks: corner, edge or point; Shift: face or axis; Control: whole part")},
	{"W", phrase.Of("distances of all that fails or is close, or of the selected parts")},
	{"D", phrase.Of("show or hide the measurements")},
	{"V", phrase.Of("what an eye sees in the mirror, in a corner; a click shows the other eye")},
	{phrase.Of("arrows, Page Up, Page Down"), phrase.Of("move the selected part by 1 mm; with Shift 10 mm, with Alt 0.1 mm")},
	{phrase.Of("arrows, nothing selected"), "turn"},
	{phrase.Of("Escape"), phrase.Of("select nothing, back to the view before")},
	{phrase.Of("Everywhere"), ""},
	{"F1", phrase.Of("these keys")},
	{phrase.Of("Tab, Shift+Tab"), phrase.Of("next and previous field or button")},
	{phrase.Of("Control+1 to 6"), phrase.Of("the six questions")},
	{"Control+O, Control+S", phrase.Of("open, save")},
	{"Control+I", phrase.Of("parts from STL files")},
	{"Control+Z, Control+Y", phrase.Of("undo, redo")},
	{"Control+E", phrase.Of("export the packet")},
	{"Control+R, Control+Shift+R", phrase.Of("keep a revision, revisions")},
	{phrase.Of("Control+arrow down, up"), phrase.Of("next and previous row of the page")},
	{phrase.Of("Control+Page Down, Page Up"), phrase.Of("next and previous view of the page: which findings, tab, heat case, component")},
	{"Control+T", phrase.Of("review on the wall; ? tells its keys")},
	{"Control+L", phrase.Of("edit everything that the layout says, at what is selected")},
	{"Control+U, Control+K", phrase.Of("move until a gap is reached, place by three points")},
	{"Control+M", phrase.Of("handles to move and turn what is selected")},
	{"Control+D", phrase.Of("parts drawer")},
	{"Control+G, Control+B", phrase.Of("ghost all but the selected, bodywork solid")},
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
	d := dialog.NewCustom(phrase.Of("Keys and pointer"), phrase.Of("Close"), container.NewVScroll(rows), w.win)
	size := w.win.Canvas().Size()
	d.Resize(fyne.NewSize(min(760, size.Width*0.9), size.Height*0.85))
	w.showClosable(d)
}
