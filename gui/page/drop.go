package page

import (
	"math"
	"reflect"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/geom/units"
	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// Drop is the page of "How low can it go?".
type Drop struct {
	widget.BaseWidget
	host    Host
	says    *widget.Label
	notes   *widget.Label
	List    *Listing // limits
	Grid    *Grid    // of List
	Budget  *Sum     // of the chosen limit, if it is a clearance
	Decides *Decision
	detail  *widget.Label
	limits  *container.Split
	limit   string // the chosen one
	known   string // how the chosen mass is known, in full
	// swapTable is what Swaps shows
	swapTable desk.Table
	tells     bool
	Gains     *Grid
	Swaps     *Grid
	Masses    *Grid
	Map       *MapView
	Tabs      *container.AppTabs
	charts    *fyne.Container
	gains     *widget.Label
	swaps     *widget.Label
	masses    *widget.Label
	content   fyne.CanvasObject
	state     *desk.State
	drawn     struct {
		of any // by idOf
		at desk.Stand
	}
}

// NewDrop returns the page.
func NewDrop(host Host) *Drop {
	p := &Drop{host: host, says: sentence(), notes: aside(""), gains: aside(""), swaps: aside(""), masses: aside(""), detail: sentence(), Budget: NewSum(), Decides: NewDecision(host)}
	p.detail.Hide()
	p.List = NewListing(host, "drop", func(row desk.Row) { p.choose(host, row) })
	p.Grid = p.List.Grid
	p.Gains = NewGrid(phrase.Of("Nothing to compare yet."), nil)
	p.Swaps = NewGrid("", p.tellSwap)
	p.Masses = NewGrid(phrase.Of("No mass is known."), func(row desk.Row) {
		p.known = row.Cells[0] + ": " + row.Cells[len(row.Cells)-1]
		p.choose(host, row)
	})
	p.Map = NewMapView(host)
	p.charts = container.New(byNeed{})
	buys := container.NewVSplit(Border(nil, p.gains, nil, nil, p.Gains), Border(heading(phrase.Of("With other parts")), p.swaps, nil, nil, p.Swaps))
	buys.SetOffset(0.55)
	p.limits = container.NewVSplit(p.List, container.NewVScroll(container.NewVBox(p.Budget, p.detail, p.Decides)))
	p.limits.SetOffset(1)
	p.Tabs = container.NewAppTabs(
		container.NewTabItem(phrase.Of("Limits"), Border(nil, p.notes, nil, nil, p.limits)),
		container.NewTabItem(phrase.Of("Curves"), container.NewVScroll(p.charts)),
		container.NewTabItem(phrase.Of("What it buys"), buys),
		container.NewTabItem(phrase.Of("Map"), p.Map),
		container.NewTabItem(phrase.Of("Masses"), Border(nil, p.masses, nil, nil, p.Masses)),
	)
	p.Tabs.OnSelected = func(*container.TabItem) { p.fill() }
	top := container.NewVBox(Border(nil, nil, nil, p.List.Find, heading(phrase.Of("How low can it go?"))), p.says)
	p.List.Head = top
	p.content = Border(top, nil, nil, nil, p.Tabs)
	p.ExtendBaseWidget(p)
	return p
}

// choose shows what a limit or a part speaks of.
func (p *Drop) choose(host Host, row desk.Row) {
	finding, part := desk.LimitOf(p.state, row.Key)
	if desk.LimitDecision(p.state, row.Key) != "" { // else a row of the masses
		p.limit = row.Key
	}
	host.Look(func(a *desk.Attention) {
		a.Select(part, false)
		a.Finding = finding
	})
	if flight, ok := findingFlight(p.state, finding); ok {
		host.Fly(flight)
	} else if part != "" {
		host.Fly(Flight{Parts: []string{part}})
	}
}

// Update shows a state.
func (p *Drop) Update(s *desk.State, _ *desk.Attention) {
	p.state = s
	says, notes := desk.DropWords(s)
	if p.says.Text != says {
		say(p.says, says)
		relay(p.content) // the sentence wraps
	}
	say(p.notes, notes...)
	p.fill()
	p.tell(s)
}

// tell tells all about the chosen limit, and gives that room.
func (p *Drop) tell(s *desk.State) {
	finding, _ := desk.LimitOf(s, p.limit)
	key, was := desk.LimitDecision(s, p.limit), p.detail.Text
	lines := desk.FindingText(s, finding)
	if finding == "" {
		lines = desk.LimitText(s, p.limit)
	}
	say(p.detail, lines...)
	p.Budget.SetTable(desk.BudgetTable(s, finding))
	p.Decides.Update(s, key, key != "")
	if tells := key != ""; tells != p.tells {
		p.tells = tells
		p.limits.SetOffset(map[bool]float64{true: limitShare, false: 1}[tells])
	}
	if was != p.detail.Text {
		relay(p.limits)
	}
}

// limitShare is the share of the list of limits above what is told of one.
const limitShare = 0.62

// Turn goes on to another tab.
func (p *Drop) Turn(by int) {
	p.Tabs.SelectIndex(around(p.Tabs.SelectedIndex(), by, len(p.Tabs.Items)))
}

// fill brings the open tab up to date; the others wait until they are looked at.
func (p *Drop) fill() {
	s := p.state
	if s == nil {
		return
	}
	at := desk.Stand{DropMM: s.DropMM, ShiftMM: s.ShiftMM}
	r := s.Answers.Drop.Value
	switch p.Tabs.SelectedIndex() {
	case 1:
		p.draw(s)
	case 2:
		buys, swaps := desk.BuysPage(s)
		p.Gains.SetTable(buys)
		say(p.gains, buys.Foot...)
		p.Swaps.SetTable(swaps)
		if !reflect.DeepEqual(swaps, p.swapTable) {
			p.swapTable = swaps
			say(p.swaps, swaps.Foot...)
		}
	case 3:
		p.Map.Update(s)
	case 4:
		masses := desk.MassPage(s)
		p.Masses.SetTable(masses)
		foot := masses.Foot
		if p.known != "" {
			foot = append([]string{p.known}, foot...)
		}
		say(p.masses, foot...)
	default:
		p.List.Fill(listed{drop: idOf(r), which: units.NumberMM(at.DropMM)}, "", func() (desk.Table, string) { return desk.LimitList(s) })
	}
}

// draw makes the charts anew if they show something else.
func (p *Drop) draw(s *desk.State) {
	at := desk.Stand{DropMM: s.DropMM, ShiftMM: s.ShiftMM}
	of := idOf(s.Answers.Drop.Value)
	if p.drawn.of == of && p.drawn.at == at {
		return
	}
	p.drawn.of, p.drawn.at = of, at
	charts := desk.DropCharts(s)
	for len(p.charts.Objects) > len(charts) {
		p.charts.Remove(p.charts.Objects[len(charts)])
	}
	for i, c := range charts {
		if i == len(p.charts.Objects) {
			chart := NewChart()
			chart.OnAt = p.goTo
			p.charts.Add(chart)
		}
		p.charts.Objects[i].(*Chart).SetChart(c)
	}
}

// tellSwap tells a row whole: its cells are narrow, and some hold sentences.
func (p *Drop) tellSwap(row desk.Row) {
	lines := []string{}
	for k, c := range p.swapTable.Columns {
		if k > 0 && row.Cells[k] != "" {
			lines = append(lines, c.Head+": "+row.Cells[k])
		}
	}
	say(p.swaps, append([]string{row.Cells[0], strings.Join(lines, "; ")}, p.swapTable.Foot...)...)
	relay(p.content)
}

// goTo previews a drop that was pointed at, rounded as the slider's.
func (p *Drop) goTo(dropMM float64) { p.host.Preview(math.Round(dropMM/dropStepMM) * dropStepMM) }

// Leave is of every page.
func (p *Drop) Leave() { p.state = noState() }

// Step goes on in the list.
func (p *Drop) Step(by int) { p.Grid.Step(by) }

// CreateRenderer is the toolkit's.
func (p *Drop) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(p.content) }
