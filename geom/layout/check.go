package layout

import (
	"fmt"
	"path"
	"strings"
	"time"
	"unicode"
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
	word string // what one is called: part, group
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
		c.fault(at+"/name", fmt.Sprintf("the name %q is taken", clip(name)), "give each "+n.word+" its own name")
	default:
		n.has[name] = true
		n.all = append(n.all, name)
	}
}

// semanticFaults returns every broken name, reference and order of a document.
// Values that the schema has refused read as absent and are passed over.
func semanticFaults(doc *Document) []placed {
	c := &checker{doc: doc, parts: names{word: "part"}, groups: names{word: "group"}}
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

func (c *checker) fault(at, what, mend string) {
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
	mend := "give the name of a " + n.word + " that there is"
	if len(c.faults) < maxShown && len(n.all) <= maxEntry {
		mend = suggest(name, n.all, "the "+n.word+"s are:")
	}
	c.fault(at, fmt.Sprintf("no %s is called %q", n.word, clip(name)), mend)
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
		c.fault(at, fmt.Sprintf("the range [%g, %g] runs backwards", r[0], r[1]), "write the least value first")
	}
}

// file checks the form of a path inside the folder; "" refers to nothing.
func (c *checker) file(at, rel string) {
	if rel == "" {
		return
	}
	if what, mend := fileFault(rel); what != "" {
		c.fault(at, what, mend)
	}
}

// CheckPath returns what speaks against a path of a mesh or table inside the
// folder, nil if nothing.
func CheckPath(rel string) error {
	if what, mend := fileFault(rel); what != "" {
		return Fault{Where: rel, What: what, Mend: mend}
	}
	return nil
}

// fileFault says what is wrong with the path of a file that a layout names.
func fileFault(rel string) (what, mend string) {
	if what, mend = pathFault(rel); what != "" {
		return what, mend
	}
	switch {
	case strings.EqualFold(rel, FileName):
		return "the path names the layout file itself", "name another file"
	case strings.EqualFold(rel, BackupName) || strings.EqualFold(rel, MeshesName):
		return "the path names a file that the program writes", "name another file"
	}
	return "", ""
}

// pathFault says what is wrong with the form of a path inside the folder.
func pathFault(rel string) (what, mend string) {
	what = fmt.Sprintf("the path %q ", clip(rel))
	drive := len(rel) > 1 && rel[1] == ':'
	switch {
	case rel == "":
		return "the path names no file", "write the place of a file in the layout folder"
	case strings.ContainsRune(rel, '\\'):
		return what + "has a backslash", "write it with /"
	case strings.HasPrefix(rel, "/") || drive:
		return what + "is absolute", "put the file in the layout folder and write its place from there"
	case strings.ContainsFunc(rel, unicode.IsControl):
		return what + "has a control character", "rename the file"
	case strings.HasPrefix(path.Clean(rel), "../") || path.Clean(rel) == "..":
		return what + "leaves the layout folder", "put the file in the layout folder"
	case path.Clean(rel) != rel || rel == ".":
		return what + "isn't in its plain form", "write it without . or .. or doubled /"
	}
	return "", ""
}

func (c *checker) checkDecisions() {
	findings := names{word: "finding"}
	for i, d := range c.doc.Decisions {
		at := fmt.Sprintf("/decisions/%d", i)
		if findings.has[d.Finding] {
			c.fault(at+"/finding", fmt.Sprintf("two decisions on finding %q", clip(d.Finding)), "keep one")
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
		c.fault(at, fmt.Sprintf("%q is no day of the calendar", day), "write the date as 2027-01-31")
	}
}
