package desk

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"aftbay/geom/clearance"
	"aftbay/gui/phrase"
)

// ReviewChoices are what a review can go through. Read-only.
var ReviewChoices = []string{phrase.Of("all that fail"), phrase.Of("fails and close"), phrase.Of("the list as it is filtered"), phrase.Of("open decisions"), phrase.Of("what needs a decision")}

// ReviewOrders are the orders of its slides. Read-only.
var ReviewOrders = []string{phrase.Of("gravest first"), phrase.Of("by part"), phrase.Of("by question"), phrase.Of("by owner and due day")}

// Review is one walk through the findings before an audience: which slides,
// where it stands, and how long each took. It holds no layout: a Slide takes its
// words from a state.
type Review struct {
	Keys []string // of the concerns, one a slide; the summary follows the last
	At   int      // 0 to len(Keys), which is the summary

	spent []time.Duration // by slide, the summary last
	since time.Time       // the clock runs since then; zero: it rests
}

// NewReview chooses and orders the slides; filtered is the list as it is
// filtered. The clock starts at now.
func NewReview(s *State, choice, order string, filtered []string, now time.Time) *Review {
	r := &Review{Keys: reviewKeys(s, choice, filtered), since: now}
	r.Keys = inOrder(s, r.Keys, order)
	r.spent = make([]time.Duration, len(r.Keys)+1)
	return r
}

func reviewKeys(s *State, choice string, filtered []string) (keys []string) {
	switch choice {
	case ReviewChoices[2]:
		return slices.Clone(filtered)
	case ReviewChoices[3]:
		for _, o := range OpenItems(s) {
			keys = append(keys, o.Finding)
		}
		return keys
	}
	for _, c := range Concerns(s) {
		fails := gravity(c.Verdict) < gravity(clearance.Close)
		decided := s.Doc != nil && settled(DecisionOf(s.Doc, c.Key).State)
		if fails && (choice != ReviewChoices[4] || !decided) || choice == ReviewChoices[1] {
			keys = append(keys, c.Key)
		}
	}
	return keys
}

// settled reports whether a decision is more than an open point.
func settled(state string) bool { return state != "" && state != DecisionStates[0] }

// inOrder sorts slides; those that are equal keep their order.
func inOrder(s *State, keys []string, order string) []string {
	by := func(key string) string {
		c, _ := ConcernOf(s, key)
		d := DecisionOf(s.Doc, key)
		switch order {
		case ReviewOrders[1]:
			return strings.Join(c.Parts, " ")
		case ReviewOrders[2]:
			return fmt.Sprint(int(c.Page))
		case ReviewOrders[3]:
			if d.Owner == "" {
				return "\uffff" // those without an owner at the end
			}
			return d.Owner + "\x00" + d.Due
		}
		return ""
	}
	sortKey := map[string]string{}
	for _, k := range keys {
		sortKey[k] = by(k)
	}
	keys = slices.Clone(keys)
	slices.SortStableFunc(keys, func(a, b string) int { return cmp.Compare(sortKey[a], sortKey[b]) })
	return keys
}

// Go shows another slide; what lies outside goes to the first or the summary.
func (r *Review) Go(to int, now time.Time) {
	r.count(now)
	r.At = max(0, min(to, len(r.Keys)))
}

// Key returns the concern of the slide, "" on the summary.
func (r *Review) Key() string {
	if r.At < len(r.Keys) {
		return r.Keys[r.At]
	}
	return ""
}

// Rest stops the clock, or starts it again.
func (r *Review) Rest(now time.Time) {
	if r.Resting() {
		r.since = now
		return
	}
	r.count(now)
	r.since = time.Time{}
}

// Resting reports whether the clock stands.
func (r *Review) Resting() bool { return r.since.IsZero() }

// count books the time since the last count on the slide.
func (r *Review) count(now time.Time) {
	if !r.Resting() {
		r.spent[r.At] += now.Sub(r.since)
		r.since = now
	}
}

// Spent returns how long this slide and all of them took.
func (r *Review) Spent(now time.Time) (item, all time.Duration) {
	for _, d := range r.spent {
		all += d
	}
	item = r.spent[r.At]
	if !r.Resting() {
		item, all = item+now.Sub(r.since), all+now.Sub(r.since)
	}
	return item, all
}

// Clock says both times, and that the clock rests.
func (r *Review) Clock(now time.Time) string {
	item, all := r.Spent(now)
	text := "this " + clockText(item) + "   all " + clockText(all)
	if r.Resting() {
		text += phrase.Of("   clock rests")
	}
	return text
}

// clockText writes a time in minutes and seconds, long ones with hours.
func clockText(d time.Duration) string {
	sec := int(d / time.Second)
	if sec >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", sec/3600, sec/60%60, sec%60)
	}
	return fmt.Sprintf("%d:%02d", sec/60, sec%60)
}

// Place says which slide this is.
func (r *Review) Place() string {
	if r.Key() == "" {
		return "summary"
	}
	return phrase.F("%d of %d", r.At+1, len(r.Keys))
}

// SlidesText says how many slides a review has.
func SlidesText(r *Review) string {
	switch len(r.Keys) {
	case 0:
		return phrase.Of("Nothing of this kind: no slide.")
	case 1:
		return phrase.Of("1 slide, then the summary.")
	}
	return phrase.F("%d slides, then the summary.", len(r.Keys))
}
