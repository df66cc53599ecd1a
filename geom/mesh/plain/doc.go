// Package plain makes bodies from a few numbers for tests: closed boxes and
// sheets from a map of the unit square. Units: mm, part frame.
package plain
