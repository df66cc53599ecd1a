package layout

import (
	"maps"
	"slices"
	"strconv"
	"strings"
)

// pieceValues is about how many values one piece of a file holds.
const pieceValues = 4000

// piece is a part of a file: of one list, key, it holds the items from number
// first on. key is "" for the piece that holds all else, with its lists emptied.
type piece struct {
	root  map[string]any
	key   string
	first int
}

// pieces divides a file; a single item stays whole.
func pieces(root map[string]any) []piece {
	rest := maps.Clone(root)
	lists := map[string][]any{}
	for key, v := range root {
		if list, ok := v.([]any); ok && len(list) > 0 {
			lists[key] = list
			rest[key] = []any{}
		}
	}
	out := []piece{{root: rest}}
	for _, key := range slices.Sorted(maps.Keys(lists)) {
		list := lists[key]
		for first := 0; first < len(list); {
			end, sum := first, 0
			for end < len(list) && (end == first || sum+valuesIn(list[end]) <= pieceValues) {
				sum += valuesIn(list[end])
				end++
			}
			out = append(out, piece{map[string]any{key: list[first:end]}, key, first})
			first = end
		}
	}
	return out
}

// place returns where a fault of the piece stands in the file; inside is false
// for one that another piece tells too.
func (p *piece) place(path string) (at string, inside bool) {
	if p.key == "" {
		return path, true
	}
	rest, found := strings.CutPrefix(path, "/"+p.key+"/")
	if !found {
		return "", false
	}
	number, below, _ := strings.Cut(rest, "/")
	i, err := strconv.Atoi(number)
	if err != nil {
		return "", false
	}
	at = "/" + p.key + "/" + strconv.Itoa(p.first+i)
	if below != "" {
		at += "/" + below
	}
	return at, true
}

// valuesIn counts a value and all below it.
func valuesIn(v any) int {
	n := 1
	switch v := v.(type) {
	case map[string]any:
		for _, one := range v {
			n += valuesIn(one)
		}
	case []any:
		for _, one := range v {
			n += valuesIn(one)
		}
	}
	return n
}
