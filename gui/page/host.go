package page

import (
	"fyne.io/fyne/v2"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/gui/desk"
)

// Host is the window that the pages belong to. No call blocks; what goes wrong
// is shown by the window.
type Host interface {
	// Look changes what the picture shows and which page is open.
	Look(change func(a *desk.Attention))
	// Preview shows the drop group lowered; Keep makes it an edit.
	Preview(dropMM float64)
	// PreviewStand is Preview with a fore-aft shift besides; Map starts or ends
	// the map of both.
	PreviewStand(at desk.Stand)
	Map(wanted bool)
	Keep()
	// Pose places a part; its error goes to failed.
	Pose(part string, moveMM, turnDeg geom.Vec, failed func(err error))
	// Use mounts one component or several as one edit; Prefer says which margin
	// matters most for one.
	Use(uses ...desk.Use)
	Prefer(study, margin string)
	// TryShield puts a shield on trial; it is then kept as a part or dropped.
	TryShield(sh layout.Shield)
	KeepShield()
	DropShield()
	// Compare asks what to compare the layout with.
	Compare()
	// Decide settles a finding; its error goes to failed.
	Decide(of layout.Decision, failed func(err error))
	// Edit opens the editor at a path of the layout; CloseEditor goes back to the
	// answers.
	Edit(path string)
	CloseEditor()
	// Change makes the first of several sets of changes that fits, as one edit;
	// Check only tells what speaks against changes. Both answer when they are done.
	Change(name string, tries [][]desk.Change, done func(s *desk.State, made int, err error))
	Check(changes []desk.Change, done func(err error))
	// BringMesh asks for an STL file and tells by which path the layout may name it.
	BringMesh(done func(rel string))
	// TakeOver writes a built-in rule into the layout.
	TakeOver(rule string)
	// Beside works beside and then shows what came of it, unless that is nil; a
	// newer wish of the same name replaces one that waits.
	Beside(name string, work func() (show func()))
	// Hint says what is under the pointer, "" for nothing to say.
	Hint(text string)
	// Fly turns the camera to a place or to some parts.
	Fly(to Flight)
}

// Flight is where the camera should go.
type Flight struct {
	From, To geom.Vec // square at the line between two points, if they differ
	Facing   geom.Vec // or looking at a surface with this normal; zero: not
	SizeMM   float64  // height of the picture at least
	Parts    []string // fit these instead
}

// noState is what a page out of sight knows: nothing is open.
func noState() *desk.State { return &desk.State{} }

// Page is one of the six pages.
type Page interface {
	fyne.CanvasObject
	Update(s *desk.State, a *desk.Attention)
	// Leave lets the state go: the page goes out of sight, and what it was last
	// told of need not be kept until it is looked at again.
	Leave()
	// Step goes on by a number of rows in the page's list.
	Step(by int)
}
