// Package gather makes a new layout out of STL files: a folder of them, or
// files dropped together. It answers what each file most likely is, says why,
// and leaves the answer to be confirmed before anything is written.
//
// Method: the words of a file's name give its role (the strongest word wins,
// the later one at a tie). STL has no unit, so the sizes give it: for each unit
// every part's largest side is held against the usual sizes of its role, and
// the unit that suits all files best is proposed; a file that doesn't suit it
// at all gets a unit of its own. Names are made from the file names and told
// apart by numbers.
//
// Units: mm where a name says so, else the unit of the file at hand.
// Frame: the meshes stay where their files put them.
//
// Limits: at most MaxFiles files and MaxDepth folders deep; links and hidden
// files are passed over. The words and the usual sizes are common practice, no
// source.
package gather
