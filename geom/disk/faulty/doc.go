// Package faulty makes a disk fail, for tests: operation number n fails in a
// chosen way, or the program "ends" there, so that a test can walk through
// every step of a save in turn.
package faulty
