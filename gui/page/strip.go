package page

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"aftbay/gui/desk"
)

// Strip is the row of six questions along the top of the window.
type Strip struct {
	widget.BaseWidget
	tiles [6]*Tile
	row   *fyne.Container
}

// NewStrip returns a strip that tells which question was pressed.
func NewStrip(open func(q desk.Question)) *Strip {
	s := &Strip{row: container.NewGridWithColumns(6)}
	for q := range s.tiles {
		s.tiles[q] = NewTile(func() { open(desk.Question(q)) })
		s.row.Add(s.tiles[q])
	}
	s.ExtendBaseWidget(s)
	return s
}

// Tile returns the tile of a question.
func (s *Strip) Tile(q desk.Question) *Tile { return s.tiles[q] }

// SetTiles shows the answers.
func (s *Strip) SetTiles(tiles [6]desk.Tile, open desk.Question) {
	for q, t := range s.tiles {
		t.SetTile(tiles[q], desk.Question(q) == open)
	}
}

// CreateRenderer is the toolkit's.
func (s *Strip) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(s.row) }
