// Package refcase makes sure that no reference case of thermal is left out: a
// test package says which cases it runs, and its tests fail when one of them was
// not run. For tests only.
//
// The cases stand in testdata/reference/thermal_open.json. Claims of all
// packages together cover every one; a test here keeps it so.
package refcase
