package desk

import (
	"context"
	"sync"
	"time"

	"aftbay/geom"
	"aftbay/geom/render"
	"aftbay/geom/say"
	"aftbay/gui/phrase"
	"aftbay/gui/report"
)

// Program is what a report says computed it.
const Program = "aftbay 0.1.0"

// PacketOptions are what a packet is stamped with; nothing is taken from the
// clock.
type PacketOptions struct {
	Date     time.Time // printed and stamped; the zero date prints as given
	Revision string
	Author   string
	Letter   bool // paper Letter instead of A4
	// Progress is told of the chapters and of the files, nil: nobody. It begins
	// once every answer is there.
	Progress geom.Progress
}

// Packet waits for every answer and writes the review packet into dir: the
// report, the table of findings and the pictures. It returns their paths. It
// takes seconds: do not call it where input is handled.
func (d *Desk) Packet(ctx context.Context, dir string, o PacketOptions) (files []string, err error) {
	if err := d.Wait(ctx); err != nil {
		return nil, err
	}
	d.crew.Do(func() { files, err = d.packet(d.crew.Context(ctx), dir, o) })
	return files, err
}

// packet is Packet with every answer there.
func (d *Desk) packet(ctx context.Context, dir string, o PacketOptions) ([]string, error) {
	s := d.State()
	if !s.Open {
		return nil, ErrNothingOpen
	}
	m, err := d.model(ctx, &s, o)
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return nil, say.Errorf("packet: %w", err)
	}
	paper := report.A4
	if o.Letter {
		paper = report.Letter
	}
	return report.WritePacket(ctx, dir, m, report.PDFOptions{Paper: paper})
}

// model gathers all that the report says.
func (d *Desk) model(ctx context.Context, s *State, o PacketOptions) (*report.Model, error) {
	m := &report.Model{
		Title: s.Title, Revision: o.Revision, Author: o.Author, Program: Program, Date: o.Date,
		Axes:  phrase.Of("Vehicle axes: X rearward, Y to the right, Z up (ISO 4130 zero planes; signs as in SAE J1100 practice)."),
		Units: phrase.Of("Lengths mm, angles degrees, temperatures °C, masses kg. Gaps are exact for the given triangles; the error stands beside each."),
		States: []report.State{
			{Name: "static", Meaning: phrase.Of("as posed")},
			{Name: "hot", Meaning: phrase.Of("parts with growth scaled about their anchor")},
			{Name: "moving", Meaning: phrase.Of("every group anywhere in its motion box or at its named positions; the low end is certified, not sampled")},
			{Name: phrase.Of("all together"), Meaning: phrase.Of("hot and moving at once, the tolerances of both parts taken off")},
		},
		Stop: s.Status,
	}
	if at := (Stand{s.DropMM, s.ShiftMM}); at != (Stand{}) {
		m.Variant = phrase.F("%s previewed: %s", s.Doc.Drop.Group, standText(at))
	}
	for i := range s.Tiles {
		t := &s.Tiles[i]
		m.Tiles = append(m.Tiles, report.Tile{Question: t.Question, Answer: t.Answer, Verdict: verdictOf(t.Verdict)})
	}
	var err error
	if m.Inputs, err = d.inputs(s); err != nil {
		return nil, err
	}
	b := &packer{ctx: ctx, s: s, painter: NewPainter(), workers: d.workers, slots: make(chan struct{}, atOnce), failed: make(chan error, 1)}
	defer b.packing.Wait()
	steps := []func(*report.Model) error{b.openItems, b.findings, b.drop, b.sight, b.heat, b.spots, b.changes, b.basis, b.scene}
	for i, step := range steps {
		err := ctx.Err()
		if err == nil {
			err = step(m)
		}
		if err != nil {
			return nil, err
		}
		if o.Progress != nil {
			o.Progress(i+1, len(steps)+writingSteps)
		}
	}
	return m, b.packed()
}

// writingSteps stands for the writing of the files beside the chapters: it takes as
// long as one or two of them. Measured on the demo.
const writingSteps = 2

// atOnce is how many pictures are packed beside the one that is drawn.
const atOnce = 2

// packer fills one model from one state.
type packer struct {
	ctx     context.Context
	s       *State
	painter *Painter
	workers int
	before  *render.Frame // drawn last: the next picture takes over its memory

	packing sync.WaitGroup
	slots   chan struct{} // one for each picture that is being packed
	failed  chan error    // the first that can't be
}

// verdictOf maps the words of all studies to those of the report.
func verdictOf(word string) report.Verdict {
	switch v := report.Verdict(word); v {
	case report.Overlap, report.Short, report.Over, report.Close, report.OK, report.NoRule:
		return v
	}
	return ""
}
