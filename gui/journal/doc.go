// Package journal is the record of edits that are not saved yet, on disk ahead
// of each of them, so that an end at any moment (a crash, a power cut, a killed
// program) loses at most the edit under way.
//
// Method: the journal begins with the whole text of the layout as last saved
// and adds one line for every edit, undo and redo: its name, its time, and the
// lines of the text that it changes, old and new. Each line begins with its
// checksum; a last line that is torn is left out, one that is wrong further up
// ends what can be read. Replaying gives the same bytes and the same steps to
// undo and redo.
//
// Limits: reading refuses a journal of more than MaxBytes or one whose replay
// would take more than maxLines lines of copying; writing begins anew, with all
// edits as one, before it gets half as large. Nothing here knows what a layout
// is: the text is checked by who takes it.
package journal
