// Package disk is how files are written so that no crash, full disk or power
// cut can damage one: the few operations on files behind a small interface,
// and on top of it the two ways in which the program writes.
//
// Replace writes a whole file: beside the old one, brought to the disk, then
// put in the old one's place in one step, so that the old or the new file
// stands there whole at every moment. Append adds records to a file, each
// brought to the disk before the call returns.
//
// Names are relative, written with /, and stay inside the folder that At has
// opened, also through links.
//
// Package faulty below it makes any of the operations fail, in turn, in tests.
//
// Limits: owner and extended attributes of a replaced file are not kept, its
// permissions are. Two programs that replace one file at the same time do not
// mix; the later one wins.
package disk
