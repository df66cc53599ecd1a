package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
	"aftbay/gui/phrase"
)

// layoutShields lists what the shields of the layout would do; a row puts its
// shield on trial.
type layoutShields struct {
	widget.BaseWidget
	says    *widget.Label
	table   *Grid
	room    *fyne.Container
	state   *desk.State
	content *fyne.Container
}

func newLayoutShields(host Host) *layoutShields {
	l := &layoutShields{says: sentence()}
	l.table = NewGrid("", func(row desk.Row) {
		if sh, ok := desk.LayoutShield(l.state, &row); ok {
			host.Look(func(a *desk.Attention) { a.Select(sh.For, false) })
			host.TryShield(sh)
		}
	})
	l.room = container.New(&rowsHigh{grid: l.table}, l.table)
	l.content = container.NewVBox(widget.NewSeparator(), aside(phrase.Of("Shields of the layout, each tried alone; choose one to see it in the scene:")), l.room, l.says)
	l.Hide()
	l.ExtendBaseWidget(l)
	return l
}

// Update shows a state.
func (l *layoutShields) Update(s *desk.State) {
	l.state = s
	says, rows := desk.LayoutShieldsSay(s), len(l.table.Rows())
	say(l.says, says...)
	l.table.SetTable(desk.LayoutShields(s))
	hidden := len(says) == 0
	l.room.Hidden = len(l.table.Rows()) == 0
	if l.Hidden != hidden || rows != len(l.table.Rows()) {
		l.Hidden = hidden
		l.content.Refresh()
	}
}

// CreateRenderer is the toolkit's.
func (l *layoutShields) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(l.content)
}
