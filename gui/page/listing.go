package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Listing is a grid with a finder over it. Rows are made, narrowed and sorted
// beside: there may be a hundred thousand of them.
type Listing struct {
	widget.BaseWidget
	Finder   *Finder
	Grid     *Grid
	Find     *widget.Button    // on a wall: shows the finder or puts it away
	Head     fyne.CanvasObject // of the page, which holds the button
	host     Host
	name     string
	of       any // what all is made of; it must hold no answer
	all      desk.Table
	empty    string
	filled   bool
	finder   desk.Finder
	turn     int // counts wishes: an older one is not shown
	selected string
	make     func() (t desk.Table, empty string) // nil once all is made
	content  fyne.CanvasObject
}

// NewListing returns an empty listing; name tells it from others.
func NewListing(host Host, name string, onRow func(row desk.Row)) *Listing {
	l := &Listing{host: host, name: name, Grid: NewGrid("", onRow)}
	l.Finder = NewFinder(host, l.find)
	l.Find = widget.NewButton(phrase.Of("Search"), func() {
		l.Finder.Hidden = !l.Finder.Hidden
		l.tellFinder()
		relay(l.content)
	})
	l.Find.Hide()
	l.Grid.OnSort = l.Finder.SortBy
	l.content = Border(l.Finder, nil, nil, nil, l.Grid)
	l.Finder.folded = func() { relay(l.content) }
	l.ExtendBaseWidget(l)
	return l
}

// fitLook puts the finder away in letters for a wall, unless it narrows the list,
// and has it always shown at the desk.
func (l *Listing) fitLook() {
	if wall := large(); wall == l.Find.Hidden {
		l.Find.Hidden = !wall
		l.Finder.Hidden = wall && !l.finder.Narrows()
		l.tellFinder()
		relay(l.Head)
		relay(l.content)
	}
}

// tellFinder names what the button does.
func (l *Listing) tellFinder() {
	l.Find.SetText(phrase.Of("Search"))
	if !l.Finder.Hidden {
		l.Find.SetText(phrase.Of("Search ▴"))
	}
}

// Fill lists what make returns. It is called beside, and only if of, which must
// be comparable, is another than last time; once it has been, it is let go.
func (l *Listing) Fill(of any, selected string, make func() (t desk.Table, empty string)) {
	l.fitLook()
	if selected != "" { // stays while a row of the list is looked at
		l.selected = selected
	}
	switch {
	case !l.filled || of != l.of:
		l.filled, l.of, l.make = true, of, make
	case l.Finder.Wants(l.selected) == l.finder:
		return
	}
	l.find()
}

// find narrows and sorts beside and shows the result.
func (l *Listing) find() {
	if !l.filled {
		return
	}
	l.finder = l.Finder.Wants(l.selected)
	l.turn++
	turn, of, all, empty, finder, make := l.turn, l.of, l.all, l.empty, l.finder, l.make
	l.host.Beside("list "+l.name, func() func() {
		if make != nil {
			all, empty = make()
		}
		found, choices := all.Found(finder), all.Choices()
		return func() {
			if of == l.of {
				l.all, l.empty, l.make = all, empty, nil
			}
			if turn == l.turn {
				l.show(found, choices, finder)
			}
		}
	})
}

func (l *Listing) show(found desk.Table, choices desk.Choices, finder desk.Finder) {
	text := desk.FoundText(len(found.Rows), len(l.all.Rows), finder)
	l.Grid.SetEmpty(l.empty)
	if finder.Narrows() && len(l.all.Rows) > 0 {
		l.Grid.SetEmpty(phrase.F("Of %d rows none is like that: take words or choices away.", len(l.all.Rows)))
	}
	l.Grid.SetSorted(finder.By, finder.Down)
	l.Grid.SetTable(found)
	l.Finder.Tell(text, choices, l.all.Columns)
}

// Keys returns what the rows mean, in their order.
func (l *Listing) Keys() (keys []string) {
	for _, row := range l.Grid.Rows() {
		keys = append(keys, row.Key)
	}
	return keys
}

// CreateRenderer is the toolkit's.
func (l *Listing) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(l.content) }
