package layout

import (
	"slices"
	"strings"

	"aftbay/geom/say"
)

// Nearest returns the known word that a mistyped one most likely means, or
// false when none is near. Case, spaces, _ and - don't count; beyond that one
// slip in three letters is forgiven. Ties go to the earlier word.
func Nearest(word string, known []string) (string, bool) {
	plain := plainWord(word)
	best, bestSlips := "", len(plain)/3+1
	for _, k := range known {
		if slips := slipsBetween(plain, plainWord(k), bestSlips); slips < bestSlips {
			best, bestSlips = k, slips
		}
	}
	return best, best != ""
}

// between are the signs that don't count in Nearest. Read-only.
var between = strings.NewReplacer("_", "", "-", "", " ", "")

// plainWord leaves what counts in Nearest; words beyond 100 letters are cut.
func plainWord(s string) []rune {
	r := []rune(between.Replace(strings.ToLower(s[:min(len(s), maxKey)])))
	return r[:min(len(r), 100)]
}

// slipsBetween counts the letters to add, drop, change or swap with their
// neighbour to turn a into b; it may answer enough for anything larger.
//
// Source: the optimal string alignment distance (Damerau 1964), from memory.
func slipsBetween(a, b []rune, enough int) int {
	if d := len(a) - len(b); d >= enough || -d >= enough {
		return enough
	}
	before := make([]int, len(b)+1) // row i-2
	last := make([]int, len(b)+1)   // row i-1
	row := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			change := last[j-1]
			if a[i-1] != b[j-1] {
				change++
			}
			row[j] = min(change, last[j]+1, row[j-1]+1)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}

// meant asks whether a word was meant.
func meant(word string) say.Text { return say.F("did you mean %q?", word) }

// suggest returns how to mend an unknown word: the nearest one, or the list.
func suggest(word string, known []string, list say.Text) say.Text {
	if near, ok := Nearest(word, known); ok {
		return meant(near)
	}
	if len(known) == 0 {
		return say.F("%s none", list)
	}
	sorted := slices.Sorted(slices.Values(known))
	const most = 12
	if len(sorted) > most {
		return say.F("%s %s, …", list, strings.Join(sorted[:most], ", "))
	}
	return say.F("%s %s", list, strings.Join(sorted, ", "))
}
