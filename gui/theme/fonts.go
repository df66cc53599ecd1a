package theme

import (
	"encoding/binary"

	"fyne.io/fyne/v2"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gobolditalic"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/gomonobold"
	"golang.org/x/image/font/gofont/gomonobolditalic"
	"golang.org/x/image/font/gofont/gomonoitalic"
	"golang.org/x/image/font/gofont/goregular"
)

// fonts are the Go fonts: they hold ≤ ≥ ≈ → ° ² Ø, are the same on every
// machine, and their figures are equally wide, so columns of numbers line up.
// Read-only.
var fonts = map[fyne.TextStyle]*fyne.StaticResource{
	{}:                         fyne.NewStaticResource("text.ttf", roomy(goregular.TTF)),
	{Bold: true}:               fyne.NewStaticResource("text-bold.ttf", roomy(gobold.TTF)),
	{Italic: true}:             fyne.NewStaticResource("text-italic.ttf", roomy(goitalic.TTF)),
	{Bold: true, Italic: true}: fyne.NewStaticResource("text-bold-italic.ttf", roomy(gobolditalic.TTF)),

	{Monospace: true}:                           fyne.NewStaticResource("mono.ttf", roomy(gomono.TTF)),
	{Monospace: true, Bold: true}:               fyne.NewStaticResource("mono-bold.ttf", roomy(gomonobold.TTF)),
	{Monospace: true, Italic: true}:             fyne.NewStaticResource("mono-italic.ttf", roomy(gomonoitalic.TTF)),
	{Monospace: true, Bold: true, Italic: true}: fyne.NewStaticResource("mono-bold-italic.ttf", roomy(gomonobolditalic.TTF)),
}

// Font returns the font of a style; symbols come from the toolkit.
func (t *Theme) Font(style fyne.TextStyle) fyne.Resource {
	if style.Symbol {
		return t.base.Font(style)
	}
	return fonts[fyne.TextStyle{Bold: style.Bold, Italic: style.Italic, Monospace: style.Monospace}]
}

// belowShare is how far a line reaches below its base line, over the size of the
// letters. The fonts say 0.21; the toolkit puts the base line on the next whole
// pixel and rounds the line's height, which then cuts the feet of g, j, p, q and
// y. 0.30 leaves them room in every size from 9 on, see the test.
const belowShare = 0.30

// roomy returns a font with more room below the base line; its letters are
// untouched.
//
// Source: the OpenType specification 1.9.1, "hhea" (descender at byte 6), "head"
// (units per em at byte 18) and the table directory.
func roomy(ttf []byte) []byte {
	head, hhea := tableAt(ttf, "head"), tableAt(ttf, "hhea")
	if head < 0 || hhea < 0 {
		return ttf
	}
	out := append([]byte(nil), ttf...)
	perEm := binary.BigEndian.Uint16(out[head+18:])
	below := -int16(belowShare * float64(perEm))
	binary.BigEndian.PutUint16(out[hhea+6:], uint16(below))
	return out
}

// tableAt returns where a table of a font begins, -1 if it has none.
func tableAt(ttf []byte, tag string) int {
	const first, each = 12, 16 // bytes before the directory's entries, and of one
	for i := range int(binary.BigEndian.Uint16(ttf[4:])) {
		entry := ttf[first+i*each:]
		if string(entry[:4]) == tag {
			return int(binary.BigEndian.Uint32(entry[8:]))
		}
	}
	return -1
}
