// Package revision keeps named states of a layout inside its folder: what was
// reviewed, what was sent out, what was tried.
//
// Method: a revision is a folder revisions/NNN-NAME with the layout file as it
// was and revision.json: number, name, reason, day, and the SHA-256 of each
// file that the layout names. Those files lie once each in revisions/files,
// named after that sum, so that a mesh that is reshaped later can still be
// compared. revision.json comes last: without it there is no revision.
//
// Restoring changes no file: the document is the revision's, and where a mesh
// is another by now it names the kept one.
//
// Limits: revisions stay in the folder; saving elsewhere and packing leave them
// behind. A packed layout has none.
package revision
