package desk

import "aftbay/gui/phrase"

// ChangesWords returns the sentences of the page: what changed, and what became
// of all that is not listed.
func ChangesWords(s *State) (sentence, rest string) {
	a := &s.Answers.Changes
	switch {
	case a.Err != nil:
		return phrase.Err(a.Err), ""
	case a.Value == nil:
		return phrase.Of("Nothing to compare yet."), ""
	}
	sentence = phrase.Say(a.Value.Sentence)
	if !a.Fresh {
		sentence = phrase.Of("Before the last change: ") + sentence
	}
	return sentence, capital(SameWords(a.Value))
}

// ChangesFindings lists the findings that changed, for the window.
func ChangesFindings(s *State) Table {
	t := Table{Columns: []Column{text(phrase.Of("change")), text(phrase.Of("part")), text(phrase.Of("to")), text(phrase.Of("state")), number(phrase.Of("before mm")), number(phrase.Of("now mm")), text(phrase.Of("verdict"))}}
	if s.Answers.Changes.Value == nil {
		return t
	}
	for _, kind := range changeKinds(s.Answers.Changes.Value) {
		for i := range kind.list {
			f := &kind.list[i]
			now := f.Verdict
			if now == "" {
				now = "gone"
			}
			t.Rows = append(t.Rows, Row{
				Cells:   []string{kind.name, f.A, f.B, f.State, optionalMM(f.BeforeMM), optionalMM(f.NowMM), now},
				Verdict: f.Verdict, Key: f.ID, Parts: []string{f.A, f.B},
			})
		}
	}
	return t
}

// ChangesParts lists the parts and settings that changed, for the window.
func ChangesParts(s *State) Table {
	t := Table{Columns: []Column{text(phrase.Of("change")), text(phrase.Of("part")), number(phrase.Of("up to mm")), text(phrase.Of("how"))}}
	r := s.Answers.Changes.Value
	if r == nil {
		return t
	}
	t.Rows = ChangedParts(r).Rows
	for _, set := range r.Settings {
		t.Rows = append(t.Rows, Row{Cells: []string{"setting", set.Where, "", phrase.Say(set.Before) + " → " + phrase.Say(set.After)}})
	}
	return t
}

// ChangeText tells all about a changed finding that is not there any more, or
// why it changed; nil if it did not.
func ChangeText(s *State, id string) []string {
	if s.Answers.Changes.Value == nil || id == "" {
		return nil
	}
	for _, kind := range changeKinds(s.Answers.Changes.Value) {
		for i := range kind.list {
			if f := &kind.list[i]; f.ID == id {
				line := capital(kind.name) + ": " + f.A + " to " + f.B + ", " + f.State
				if !f.Why.IsZero() {
					line += "; " + phrase.Say(f.Why)
				}
				return []string{line + "."}
			}
		}
	}
	return nil
}
