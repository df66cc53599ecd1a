package report

import (
	"io"
	"slices"

	"codeberg.org/go-pdf/fpdf"

	"aftbay/geom/say"
)

// Paper is the size of the sheets; they lie wide, as on a projector.
type Paper int

// The papers known.
const (
	A4     Paper = iota // 297 by 210 mm, ISO 216
	Letter              // 11 by 8.5 in, ANSI/ASME Y14.1 size A
)

// size returns the sheet as it lies.
func (p Paper) size() fpdf.SizeType {
	if p == Letter {
		return fpdf.SizeType{Wd: 279.4, Ht: 215.9}
	}
	return fpdf.SizeType{Wd: 297, Ht: 210}
}

// chapters writes the report, in its order. Read-only.
var chapters = [...]func(*book){
	(*book).cover, (*book).summary, (*book).openItems, (*book).failing, (*book).findings,
	(*book).drop, (*book).rearView, (*book).heat, (*book).spots, (*book).changes,
	(*book).basis, (*book).sources, (*book).cautions,
}

// PDFOptions says how the paper looks.
type PDFOptions struct {
	Paper Paper
}

// WritePDF writes the model as a PDF: cover with the verdicts, summary, a page
// for each failing finding, tables, plots, sources and cautions. The same model
// and options give the same bytes.
func WritePDF(w io.Writer, m *Model, o PDFOptions) error {
	if err := Check(m); err != nil {
		return err
	}
	return writePDF(w, m, o)
}

// writePDF lays out until the page numbers in the contents hold, then once more
// with the pictures.
func writePDF(w io.Writer, m *Model, o PDFOptions) error {
	var counted *book
	const passes = 4 // the contents are short: the second count holds already
	for range passes {
		b, err := layOut(m, o, counted, draft)
		if err != nil {
			return say.Errorf("pdf: %w", err)
		}
		held := counted != nil && b.samePages(counted)
		counted = b
		if held {
			break
		}
	}
	b, err := layOut(m, o, counted, final)
	if err != nil {
		return say.Errorf("pdf: %w", err)
	}
	if err := b.pdf.Output(w); err != nil {
		return say.Errorf("pdf: %w", err)
	}
	return nil
}

// samePages tells whether two passes agree on every page number.
func (b *book) samePages(other *book) bool {
	return b.pdf.PageCount() == other.pdf.PageCount() && slices.Equal(b.failPages, other.failPages) && slices.EqualFunc(b.entries, other.entries,
		func(x, y entry) bool { return x.Page == y.Page })
}

// pass is what a layout is made for.
type pass int

const (
	draft pass = iota // to count the pages
	final
)

// layOut draws all pages once. before is the pass that counted them, nil in the
// first; in a draft the pictures only take their room.
func layOut(m *Model, o PDFOptions, before *book, as pass) (*book, error) {
	c, err := newCanvas(m, o.Paper.size())
	if err != nil {
		return nil, err
	}
	c.draft = as == draft
	b := &book{canvas: c, m: m}
	if before != nil {
		b.pages = before.pdf.PageCount()
		b.failBefore = before.failPages
		for _, e := range before.entries {
			e.Link = c.pdf.AddLink()
			b.before = append(b.before, e)
		}
	}
	for _, draw := range chapters {
		draw(b)
		if b.err == nil {
			b.err = c.pdf.Error()
		}
		if b.err != nil {
			return nil, b.err
		}
	}
	return b, nil
}
