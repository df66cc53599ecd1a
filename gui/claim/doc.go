// Package claim is the lock on a layout: of several windows, one may change it.
//
// Method: a small file beside the layout is locked by the operating system, so
// that the lock goes with the program, however it ends; the file says who holds
// it, for the others to read. Where the system can't lock a file (some network
// disks), the file alone counts: it holds as long as its program runs, on this
// machine, or until someone removes it, on another.
//
// Limits: it holds between programs that ask for it. Whatever else writes into
// the folder is noticed only afterwards.
package claim
