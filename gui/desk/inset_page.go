package desk

import (
	"aftbay/geom/say"
	"aftbay/gui/phrase"
)

// eyeWords name the eyes in the order of Seen.Mirror. Read-only.
var eyeWords = [2]string{phrase.Of("Left"), phrase.Of("Right")}

// InsetText says below the mirror in the corner of the scene whose eye it is,
// what that eye sees of the road, and whether that is of now.
func InsetText(s *State, eye int) string {
	a := &s.Answers.Seen
	if a.Value == nil || a.Value.Result == nil {
		return ""
	}
	share := a.Value.Result.Seen.LeftShare
	if eye == 1 {
		share = a.Value.Result.Seen.RightShare
	}
	text := phrase.F("%s eye: %s %% of the road", eyeWords[eye], Percent(share))
	if !a.Fresh {
		text += ", computing"
	}
	return text
}

// ToggleMirror shows the mirror in a corner of the scene or puts it away. It says
// why where there is none.
func (a *Attention) ToggleMirror(s *State) error {
	if s.Doc == nil || s.Doc.RearView == nil {
		return say.Errorf("the layout has no rear view: give it eyes and a mirror first")
	}
	a.Mirror = !a.Mirror
	return nil
}
