package mesh

import (
	"bytes"
	"strconv"

	"github.com/hschendel/stl"

	"aftbay/geom/say"
)

// facetWords is the fixed course of one facet; "#" stands for a number, of
// which those of the normal ("~") are not looked at.
//
// Read-only.
var facetWords = [...]string{
	"facet", "normal", "~", "~", "~", "outer", "loop",
	"vertex", "#", "#", "#", "vertex", "#", "#", "#", "vertex", "#", "#", "#",
	"endloop", "endfacet",
}

// readASCII checks the text word by word, so that every refusal has a line, and
// hands the library a plain form of it: one solid, lower case, short lines.
func readASCII(data []byte) (*Mesh, []say.Text, error) {
	g := &asciiGuard{words: wordScanner{data: data, line: 1}}
	if err := g.file(); err != nil {
		return nil, nil, err
	}
	c := newCollector(g.facets)
	if err := stl.CopyAll(bytes.NewReader(g.plain.Bytes()), c); err != nil {
		return nil, nil, &ReadError{Kind: ErrNotSTL, Line: 1, What: say.Words(err), Mend: say.Of("export the part again")}
	}
	var notes []say.Text
	if g.solids > 1 {
		notes = append(notes, say.F("%d solids in one file were read as one part", g.solids))
	}
	return c.mesh(), notes, nil
}

// asciiGuard reads an ASCII file and writes its plain form.
type asciiGuard struct {
	words          wordScanner
	plain          bytes.Buffer
	facets, solids int
}

func (g *asciiGuard) file() error {
	g.words.data = bytes.TrimPrefix(g.words.data, []byte("\xef\xbb\xbf")) // byte order mark
	g.plain.WriteString("solid part\n")
	word := g.words.next()
	if word != "solid" {
		return g.fault(ErrNotSTL, say.F("text that begins with %.20q, not with \"solid\"", word), say.Of("export the part again as STL"))
	}
	for word == "solid" {
		g.solids++
		g.words.skipLine() // the name, which may hold any words
		var err error
		if word, err = g.solid(); err != nil {
			return err
		}
	}
	if word != "" {
		return g.fault(ErrNotSTL, say.F("%.20q after \"endsolid\"", word), say.Of("remove what follows the last solid"))
	}
	if g.facets == 0 {
		return g.fault(ErrEmpty, say.Of("no facet between \"solid\" and \"endsolid\""), say.Of("export the part again with its surfaces shown"))
	}
	g.plain.WriteString("endsolid part\n")
	return nil
}

// solid reads facets up to and with the endsolid line; it returns the word
// after it.
func (g *asciiGuard) solid() (string, error) {
	for {
		switch word := g.words.next(); word {
		case "facet":
			if err := g.facet(); err != nil {
				return "", err
			}
		case "endsolid":
			g.words.skipLine() // the name again
			return g.words.next(), nil
		case "":
			return "", g.fault(ErrTruncated, say.Of("the text ends without \"endsolid\""), say.Of("copy or export the file again"))
		default:
			return "", g.fault(ErrNotSTL, say.F("%.20q where \"facet\" or \"endsolid\" is due", word), say.Of("export the part again as STL"))
		}
	}
}

// facet reads what follows the word "facet".
func (g *asciiGuard) facet() error {
	if g.facets++; g.facets > maxFacets {
		return g.fault(ErrTooLarge, say.F("more than %d facets", maxFacets), say.Of("export a coarser envelope"))
	}
	g.plain.WriteString("facet")
	for _, due := range facetWords[1:] {
		word := g.words.next()
		if word == "" {
			return g.fault(ErrTruncated, say.F("the text ends inside facet %d", g.facets), say.Of("copy or export the file again"))
		}
		switch due {
		case "~":
			word = "0"
		case "#":
			if err := g.number(word); err != nil {
				return err
			}
		default:
			if word != due {
				return g.fault(ErrNotSTL, say.F("%.20q where %q is due in facet %d", word, due, g.facets), say.Of("facets need exactly three corners: export the part again as triangles"))
			}
		}
		g.plain.WriteByte(' ')
		g.plain.WriteString(word)
	}
	g.plain.WriteByte('\n')
	return nil
}

func (g *asciiGuard) number(word string) error {
	x, err := strconv.ParseFloat(word, 32)
	kind := judge(x)
	if err != nil && kind == nil {
		kind = ErrNumber
	}
	if kind == nil {
		return nil
	}
	return g.fault(kind, say.F("%.30q as a coordinate of facet %d", word, g.facets), mendFor(kind))
}

func (g *asciiGuard) fault(kind error, what, mend say.Text) error {
	return &ReadError{Kind: kind, Byte: int64(g.words.start), Line: g.words.wordLine, What: what, Mend: mend}
}

// wordScanner walks over words and counts lines; \n, \r\n and \r end a line.
type wordScanner struct {
	data     []byte
	at       int // next byte to look at
	line     int // of data[at]
	start    int // of the word returned last
	wordLine int
}

// next returns the next word in lower case, "" at the end.
func (s *wordScanner) next() string {
	for s.at < len(s.data) && isSpace(s.data[s.at]) {
		s.advance()
	}
	s.start, s.wordLine = s.at, s.line
	for s.at < len(s.data) && !isSpace(s.data[s.at]) {
		s.at++
	}
	return string(bytes.ToLower(s.data[s.start:s.at]))
}

// skipLine goes to the end of the line.
func (s *wordScanner) skipLine() {
	for s.at < len(s.data) && s.data[s.at] != '\n' && s.data[s.at] != '\r' {
		s.at++
	}
}

func (s *wordScanner) advance() {
	c := s.data[s.at]
	s.at++
	crBeforeLF := c == '\r' && s.at < len(s.data) && s.data[s.at] == '\n'
	if c == '\n' || c == '\r' && !crBeforeLF {
		s.line++
	}
}

func isSpace(c byte) bool { return c == ' ' || c >= '\t' && c <= '\r' }
