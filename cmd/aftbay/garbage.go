package main

import (
	"runtime"
	"runtime/debug"
)

// garbagePercent is how much may wait to be collected, in percent of what is in
// use: the language's own choice of 100 lets what answers and pictures leave
// behind double the memory. The price is a collection twice as often, beside
// what runs. Measured on the demo; common practice, no source.
const garbagePercent = 50

// keepSmall holds the memory down, unless GOGC says otherwise. Unless profiles are
// asked for, it is not noted where memory was taken: the notes, one for each way
// that led there, are never given back, and grew by 0.2 MB a minute under a random
// user.
func keepSmall(gogc string, profiles bool) {
	if gogc == "" {
		debug.SetGCPercent(garbagePercent)
	}
	if !profiles {
		runtime.MemProfileRate = 0
	}
}
