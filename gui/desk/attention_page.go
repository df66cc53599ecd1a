package desk

import (
	"fmt"
	"maps"
	"slices"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// Attention is what the reader looks at. It changes the picture and the pages,
// never the layout. The zero value looks at the whole layout.
type Attention struct {
	Page      Question
	Selected  []string           // part names, the first is the one described
	Hidden    map[string]bool    // by part name
	Clear     map[string]bool    // drawn see-through by hand, by part name
	Finding   string             // id of the finding shown, "" for none
	Case      int                // heat case
	Heat      HeatPicture        // what the heat picture shows
	Timed     bool               // it shows one time of a soak, not the peaks
	TimeS     float64            // that time, after key-off
	Without   bool               // the heat picture leaves out the shield on trial
	Study     int                // mounting study
	Rank      int                // spot shown in place, from 1; 0 for none
	Why       bool               // the hosts tell why the component cannot stand there
	Ghost     bool               // all that is not selected is see-through
	Shells    bool               // bodywork is drawn solid
	Faults    bool               // the faults of the selected part's mesh are marked
	Sections  []Section          // cuts through the scene, by letter
	Measures  bool               // the layout's measurements are shown
	Mirror    bool               // what an eye sees in the mirror is shown in a corner of the scene
	Gaps      bool               // the distances of what fails or is close, or of the selected parts, are shown
	Measuring bool               // clicks take the ends of a measurement
	FirstEnd  layout.MeasuredEnd // the one taken already, without a part if none
	Picking   string             // says what to click next while a part is placed by points, "" otherwise
	Picked    []geom.Vec         // those points, as far as they are picked
}

// Clone returns a copy that shares nothing.
func (a *Attention) Clone() Attention {
	out := *a
	out.Selected, out.Hidden, out.Clear = slices.Clone(a.Selected), maps.Clone(a.Hidden), maps.Clone(a.Clear)
	out.Sections, out.Picked = slices.Clone(a.Sections), slices.Clone(a.Picked)
	return out
}

// Select makes one part the selected one, or adds it to or takes it from those
// that are. "" selects nothing.
func (a *Attention) Select(part string, add bool) {
	i := slices.Index(a.Selected, part)
	switch {
	case part == "" && add:
	case part == "":
		a.Selected = nil
	case !add:
		a.Selected = []string{part}
	case i >= 0:
		a.Selected = slices.Delete(slices.Clone(a.Selected), i, i+1)
	default:
		a.Selected = append([]string{part}, a.Selected...)
	}
	a.Finding, a.Rank, a.Faults = "", 0, false
}

// SelectAll selects some parts, or adds them to those that are.
func (a *Attention) SelectAll(parts []string, add bool) {
	next := slices.Clone(parts)
	if add {
		for _, p := range a.Selected {
			if !slices.Contains(next, p) {
				next = append(next, p)
			}
		}
	}
	a.Selected, a.Finding, a.Rank, a.Faults = next, "", 0, false
}

// Hide hides or shows a part.
func (a *Attention) Hide(part string, hidden bool) {
	next := maps.Clone(a.Hidden)
	if next == nil {
		next = map[string]bool{}
	}
	if hidden {
		next[part] = true
	} else {
		delete(next, part)
	}
	a.Hidden = next
}

// Isolate hides all but the selected parts of a state.
func (a *Attention) Isolate(s *State) {
	if len(a.Selected) == 0 || s.Scene == nil {
		return
	}
	a.Hidden = map[string]bool{}
	for i := range s.Scene.Parts {
		if name := s.Scene.Parts[i].Name; !slices.Contains(a.Selected, name) {
			a.Hidden[name] = true
		}
	}
}

// PictureKey tells whether two pictures of a state are the same.
type PictureKey struct {
	scene, fit, heat, spots, sound, seen any
	fresh, rough                         bool
	at, measures                         string
}

// KeyOf returns the key of the picture of a state.
func KeyOf(s *State, a *Attention) PictureKey {
	k := PictureKey{scene: s.Scene, fresh: true}
	if s.Scene == nil {
		k.scene = s.Coming.drawn()
	}
	if a.Finding != "" || a.Gaps {
		k.fit, k.fresh = s.Answers.Fit.Value, s.Answers.Fit.Fresh
	}
	switch a.Page {
	case Heats:
		h := &WithShield(s, a).Answers.Heat
		k.heat, k.fresh, k.rough = h.Value, k.fresh && h.Fresh, h.Rough && h.Err == nil
	case Sees:
		k.seen, k.fresh = s.Answers.Seen.Value, k.fresh && (s.Answers.Seen.Fresh || s.Answers.Seen.Rough)
	case Mounts:
		sp := &s.Answers.Spots
		k.spots, k.fresh, k.rough = sp.Value, k.fresh && (sp.Fresh || sp.Rough), sp.Rough
	}
	if a.Faults {
		k.sound = s.Answers.Sound.Value
	}
	k.at = fmt.Sprint(a.Page == Sees, a.Page == Lowers && (s.DropMM != 0 || s.ShiftMM != 0), a.Page == Heats, a.Page == Mounts, a.Selected, sortedKeys(a.Hidden), a.Finding, a.Case, a.Heat, a.Timed, a.TimeS, a.Without, a.Study, a.Rank, a.Why, a.Ghost, a.Shells, a.Faults, a.Sections, sortedKeys(a.Clear), a.Measures, a.Gaps, a.Measuring, a.FirstEnd, a.Picking, a.Picked)
	if a.Measures && s.Doc != nil { // not of the scene: it is the same without them
		k.measures = fmt.Sprint(s.Doc.Measurements)
	}
	return k
}

// QuestionText returns a question in words.
func QuestionText(q Question) string { return questions[q] }
