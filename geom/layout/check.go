package layout

import (
	"fmt"
	"path"
	"strings"
	"time"
	"unicode"

	"aftbay/geom/say"
)

// checker gathers what a schema can't say about one document.
type checker struct {
	doc    *Document
	faults []placed

	parts  names // parts and routes: one name space
	groups names
}

// names is the set of names that others may refer to.
type names struct {
	word say.Text // what one is called: part, group
	are  say.Text // what begins a list of them
	all  []string
	has  map[string]bool
	open bool // some entry has no readable name of its own: a missing one proves nothing
}

func (n *names) add(c *checker, at, name string) {
	if n.has == nil {
		n.has = map[string]bool{}
	}
	switch {
	case name == "":
		n.open = true // the schema has said so
	case n.has[name]:
		n.open = true // one of the two was meant to be called otherwise
		c.fault(at+"/name", say.F("the name %q is taken", clip(name)), say.F("give each %s its own name", n.word))
	default:
		n.has[name] = true
		n.all = append(n.all, name)
	}
}

// semanticFaults returns every broken name, reference and order of a document.
// Values that the schema has refused read as absent and are passed over.
func semanticFaults(doc *Document) []placed {
	c := &checker{doc: doc, parts: names{word: say.Of("part"), are: say.Of("the parts are:")}, groups: names{word: say.Of("group"), are: say.Of("the groups are:")}}
	c.gatherNames()
	c.checkParts()
	c.checkGroups()
	c.checkRules()
	c.checkVehicle()
	c.checkDrop()
	c.checkRearView()
	c.checkHeat()
	c.checkSpots()
	c.checkRoutes()
	c.checkDecisions()
	c.checkMeasurements()
	return c.faults
}

func (c *checker) fault(at string, what, mend say.Text) {
	if len(c.faults) >= maxFaults {
		return
	}
	c.faults = append(c.faults, placed{path: at, what: what, mend: mend})
}

func (c *checker) gatherNames() {
	for i, p := range c.doc.Parts {
		c.parts.add(c, fmt.Sprintf("/parts/%d", i), p.Name)
	}
	for i, r := range c.doc.Routes {
		c.parts.add(c, fmt.Sprintf("/routes/%d", i), r.Name)
	}
	for i, g := range c.doc.Groups {
		c.groups.add(c, fmt.Sprintf("/groups/%d", i), g.Name)
	}
	if len(c.doc.Groups) > 0 {
		return
	}
	// A layout without a groups list: whatever the parts name is a group.
	c.groups.has = map[string]bool{}
	for _, name := range c.doc.groupsInUse() {
		c.groups.has[name] = true
		c.groups.all = append(c.groups.all, name)
	}
}

// groupsInUse returns the groups that parts and routes name, each once.
func (d *Document) groupsInUse() []string {
	var list []string
	seen := map[string]bool{"": true}
	add := func(name string) {
		if !seen[name] {
			seen[name] = true
			list = append(list, name)
		}
	}
	for _, p := range d.Parts {
		add(p.Group)
	}
	for _, r := range d.Routes {
		add(r.Group)
	}
	return list
}

// refer checks that a name stands for something; "" refers to nothing.
func (c *checker) refer(at, name string, n *names) {
	if name == "" || n.open || n.has[name] {
		return
	}
	// A suggestion looks through all names: it is worth that for the faults
	// that are shown, and while the names can still be looked through by eye.
	mend := say.F("give the name of a %s that there is", n.word)
	if len(c.faults) < maxShown && len(n.all) <= maxEntry {
		mend = suggest(name, n.all, n.are)
	}
	c.fault(at, say.F("no %s is called %q", n.word, clip(name)), mend)
}

// selector checks that part: and group: selectors name something. A role
// without parts is allowed: rules may stand ready for parts still to come.
func (c *checker) selector(at, text string) {
	s, err := ParseSelector(text)
	if err != nil {
		return // the schema has said so
	}
	switch s.Kind {
	case SelectPart:
		c.refer(at, s.Name, &c.parts)
	case SelectGroup:
		c.refer(at, s.Name, &c.groups)
	}
}

// order checks that a range runs from least to most.
func (c *checker) order(at string, r Range) {
	if r[0] > r[1] {
		c.fault(at, say.F("the range [%g, %g] runs backwards", r[0], r[1]), say.Of("write the least value first"))
	}
}

// file checks the form of a path inside the folder; "" refers to nothing.
func (c *checker) file(at, rel string) {
	if rel == "" {
		return
	}
	if what, mend := fileFault(rel); !what.IsZero() {
		c.fault(at, what, mend)
	}
}

// CheckPath returns what speaks against a path of a mesh or table inside the
// folder, nil if nothing.
func CheckPath(rel string) error {
	if what, mend := fileFault(rel); !what.IsZero() {
		return Fault{Where: rel, What: what, Mend: mend}
	}
	return nil
}

// fileFault says what is wrong with the path of a file that a layout names.
func fileFault(rel string) (what, mend say.Text) {
	if what, mend = pathFault(rel); !what.IsZero() {
		return what, mend
	}
	switch {
	case strings.EqualFold(rel, FileName):
		return say.Of("the path names the layout file itself"), say.Of("name another file")
	case strings.EqualFold(rel, BackupName) || strings.EqualFold(rel, MeshesName):
		return say.Of("the path names a file that the program writes"), say.Of("name another file")
	}
	return say.Text{}, say.Text{}
}

// pathFault says what is wrong with the form of a path inside the folder.
func pathFault(rel string) (what, mend say.Text) {
	told := clip(rel)
	drive := len(rel) > 1 && rel[1] == ':'
	switch {
	case rel == "":
		return say.Of("the path names no file"), say.Of("write the place of a file in the layout folder")
	case strings.ContainsRune(rel, '\\'):
		return say.F("the path %q has a backslash", told), say.Of("write it with /")
	case strings.HasPrefix(rel, "/") || drive:
		return say.F("the path %q is absolute", told), say.Of("put the file in the layout folder and write its place from there")
	case strings.ContainsFunc(rel, unicode.IsControl):
		return say.F("the path %q has a control character", told), say.Of("rename the file")
	case strings.HasPrefix(path.Clean(rel), "../") || path.Clean(rel) == "..":
		return say.F("the path %q leaves the layout folder", told), say.Of("put the file in the layout folder")
	case path.Clean(rel) != rel || rel == ".":
		return say.F("the path %q isn't in its plain form", told), say.Of("write it without . or .. or doubled /")
	}
	return say.Text{}, say.Text{}
}

func (c *checker) checkDecisions() {
	findings := names{word: say.Of("finding"), are: say.Of("the findings are:")}
	for i, d := range c.doc.Decisions {
		at := fmt.Sprintf("/decisions/%d", i)
		if findings.has[d.Finding] {
			c.fault(at+"/finding", say.F("two decisions on finding %q", clip(d.Finding)), say.Of("keep one"))
		} else {
			findings.add(c, at, d.Finding)
		}
		c.checkDay(at+"/due", d.Due)
		for k, h := range d.History {
			c.checkDay(fmt.Sprintf("%s/history/%d/date", at, k), h.Date)
			c.checkDay(fmt.Sprintf("%s/history/%d/due", at, k), h.Due)
		}
	}
}

// checkDay wants a date that has the form of one to be in the calendar.
func (c *checker) checkDay(at, day string) {
	if _, err := time.Parse(time.DateOnly, day); len(day) == len(time.DateOnly) && err != nil {
		c.fault(at, say.F("%q is no day of the calendar", day), say.Of("write the date as 2027-01-31"))
	}
}
