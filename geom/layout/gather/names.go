package gather

import (
	"path"
	"strconv"
	"strings"
	"unicode"
)

// maxName is how long a proposed name or file name may be, in letters.
const maxName = 80

// nameOf makes a part's name of a file's: words apart by spaces.
func nameOf(file string) string {
	stem := strings.TrimSuffix(path.Base(file), path.Ext(file))
	name := strings.Join(strings.FieldsFunc(stem, func(r rune) bool {
		return r == '_' || unicode.IsSpace(r) || unicode.IsControl(r) || r == unicode.ReplacementChar
	}), " ")
	if name = cut(name); name == "" {
		return "part"
	}
	return name
}

// fileOf makes a file name that every system accepts.
func fileOf(file string) string {
	stem := strings.TrimSuffix(path.Base(file), path.Ext(file))
	stem = strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || strings.ContainsRune("-_. ", r) {
			return r
		}
		return '_'
	}, stem)
	if stem = strings.Trim(cut(stem), ". "); stem == "" {
		stem = "part"
	}
	return stem
}

func cut(s string) string {
	if r := []rune(strings.ToValidUTF8(s, "")); len(r) > maxName {
		s = string(r[:maxName])
	}
	return strings.TrimSpace(strings.ToValidUTF8(s, ""))
}

// taken counts the names that are given away, by their small letters.
type taken map[string]int

// unique returns name+end, with a number before the end if that is taken. Names
// that differ in nothing but capitals count as the same: some disks see no
// difference.
func (t taken) unique(name, between, end string) string {
	first := name + end
	n := t[fold(first)]
	try := first
	for t[fold(try)] > 0 {
		n++
		try = name + between + strconv.Itoa(n) + end
	}
	t[fold(first)] = max(n, 1) // where the next of this name goes on
	t[fold(try)] = max(t[fold(try)], 1)
	return try
}

func fold(s string) string { return strings.ToLower(s) }
