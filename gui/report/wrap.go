package report

import (
	"strings"
	"unicode/utf8"
)

// wrap breaks text into lines no wider than wMM. It breaks at spaces, in long
// words after - _ / . and only at need between letters, so nothing is ever cut
// off. An empty text gives one empty line.
func (c *canvas) wrap(s style, wMM float64, text string) []string {
	var lines []string
	for _, paragraph := range strings.Split(c.clean(text), "\n") {
		lines = append(lines, c.wrapLine(s, wMM, strings.Fields(paragraph))...)
	}
	return lines
}

// wrapLine fills lines with words, one after the other.
func (c *canvas) wrapLine(s style, wMM float64, words []string) []string {
	var lines []string
	current := ""
	for _, word := range words {
		joined := word
		if current != "" {
			joined = current + " " + word
		}
		if c.widthMM(s, joined) <= wMM {
			current = joined
			continue
		}
		if current != "" {
			lines = append(lines, current)
		}
		pieces := c.split(s, wMM, word)
		lines = append(lines, pieces[:len(pieces)-1]...)
		current = pieces[len(pieces)-1]
	}
	return append(lines, current)
}

// split cuts a word that is wider than a line into pieces that fit. A piece
// holds at least one letter, however narrow the line.
func (c *canvas) split(s style, wMM float64, word string) []string {
	var pieces []string
	for c.widthMM(s, word) > wMM && utf8.RuneCountInString(word) > 1 {
		cut, soft := 0, 0
		for i, r := range word {
			end := i + utf8.RuneLen(r)
			if i > 0 && c.widthMM(s, word[:end]) > wMM {
				break
			}
			cut = end
			if strings.ContainsRune("-_/.,;)", r) && end < len(word) {
				soft = end
			}
		}
		if soft > cut/3 { // a break near the start would waste the line
			cut = soft
		}
		pieces = append(pieces, word[:cut])
		word = word[cut:]
	}
	return append(pieces, word)
}
