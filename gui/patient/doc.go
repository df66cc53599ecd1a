// Package patient runs long work on threads that give way: where the processors
// do not suffice for all, the goroutine that answers the hand is served first.
//
// A Crew keeps threads that the system's scheduler serves after ordinary ones:
// on Linux by their nice value, on Windows by their priority. Elsewhere they are
// plain goroutines. Order of the work and its results are the same.
//
// Limits: it speaks to the scheduler of this machine only. A thread that waits
// for a lock held by a patient one waits as long as that one does.
package patient
