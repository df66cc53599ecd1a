// Package rules holds the house rules that a machine can check: who may import
// whom, units in names, sizes, no hidden state, no clock or shared random
// numbers in a calculation, words that must not stand in the project, and an
// origin for every test file. Its tests run them over the whole module.
//
// Method: the sources are parsed, not compiled, so one package that does not
// build hides nothing about the others. Every rule is a function from a Module
// to Findings, and every rule is itself tested on small sources that break it.
//
// Limits: names are judged by their spelling. The rules see that a length ends
// in MM, not that its value is in millimetres.
package rules
