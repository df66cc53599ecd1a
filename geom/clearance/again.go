package clearance

import (
	"slices"

	"aftbay/geom/dist"
	"aftbay/geom/scene"
)

// memory is what a run keeps for the next one, so that a part in the hand costs
// what has changed and not what there is. Read-only once the run has ended.
type memory struct {
	rules     []Rule
	joined    [][2]string
	who       []identity // by part
	keys      []sideKey  // by part
	hot       []dist.Body
	jobs      []job
	unchecked []Unchecked
	raw       [][]cached // by job: its rows
	seq       []int32    // by place in Pairs: statesEach·job + row
}

// statesEach is the most rows that a job has.
const statesEach = 4

// identity is what else of a part the rows about it depend on.
type identity struct {
	name, role, group string
	toleranceMM       float64
	closed, sheet     bool
	open              string
}

func identities(s *scene.Scene) []identity {
	out := make([]identity, len(s.Parts))
	for i := range s.Parts {
		p := &s.Parts[i]
		out[i] = identity{name: p.Name, role: p.Role, group: p.Group, toleranceMM: toleranceMM(p), closed: p.Closed, sheet: p.Sheet}
		if !p.Closed {
			out[i].open = p.OpenText().String()
		}
	}
	return out
}

// plan notes the jobs of a run; again is true when they are those of the
// previous one, so that rows of unchanged pairs stand.
func (c *check) plan() (m *memory, again bool) {
	m = &memory{rules: Rules(c.scene.Doc), joined: c.scene.Doc.Joined, who: identities(c.scene), keys: c.keys, hot: c.hot}
	if c.prev != nil && c.prev.was != nil {
		was := c.prev.was
		if slices.Equal(m.who, was.who) && slices.Equal(m.rules, was.rules) && slices.Equal(m.joined, was.joined) {
			m.rules, m.jobs, m.unchecked = was.rules, was.jobs, was.unchecked
			return m, true
		}
		c.known = was.gaps()
	}
	m.jobs, m.unchecked = c.jobs(m.rules)
	return m, false
}

// gaps returns the raw answers of a run by pair and state.
func (m *memory) gaps() map[cacheKey]cached {
	all := map[cacheKey]cached{}
	for i, j := range m.jobs {
		for k := range m.raw[i] {
			all[cacheKey{j.a, j.b, m.raw[i][k].state}] = m.raw[i][k]
		}
	}
	return all
}

// changed returns the jobs of which a part is not as it was; all of them where
// the run before is of no use.
func (c *check) changed(m *memory, again bool) []int {
	var todo []int
	short := func(one cached) bool { return one.brief && !c.brief }
	for i, j := range m.jobs {
		if !again || c.keys[j.a] != c.prev.was.keys[j.a] || c.keys[j.b] != c.prev.was.keys[j.b] || slices.ContainsFunc(c.prev.was.raw[i], short) {
			todo = append(todo, i)
		}
	}
	return todo
}

// ranked is a row with its place among all rows before they are sorted.
type ranked struct {
	pair *Pair
	seq  int32
}

// before orders rows: the most pressing first, equals by their place.
func before(a, b ranked) int {
	switch {
	case Worse(a.pair, b.pair):
		return -1
	case Worse(b.pair, a.pair):
		return 1
	}
	return int(a.seq) - int(b.seq)
}

// merge puts fresh rows among those of the previous run that stand.
func (r *Result) merge(fresh []ranked, prev *Result, todo []int, jobs int) {
	gone := make([]bool, jobs)
	for _, i := range todo {
		gone[i] = true
	}
	slices.SortFunc(fresh, before)
	n := len(fresh)
	if prev != nil {
		n += len(prev.Pairs)
	}
	r.Pairs, r.was.seq = make([]Pair, 0, n), make([]int32, 0, n)
	take := func(one ranked) {
		r.Pairs, r.was.seq = append(r.Pairs, *one.pair), append(r.was.seq, one.seq)
	}
	if prev != nil {
		for i := range prev.Pairs {
			old := ranked{&prev.Pairs[i], prev.was.seq[i]}
			if gone[old.seq/statesEach] {
				continue
			}
			for len(fresh) > 0 && before(fresh[0], old) < 0 {
				take(fresh[0])
				fresh = fresh[1:]
			}
			take(old)
		}
	}
	for _, one := range fresh {
		take(one)
	}
}
