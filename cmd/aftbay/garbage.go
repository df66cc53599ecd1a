package main

import "runtime/debug"

// garbagePercent is how much may wait to be collected, in percent of what is in
// use: the language's own choice of 100 lets what answers and pictures leave
// behind double the memory. The price is a collection twice as often, beside
// what runs. Measured on the demo; common practice, no source.
const garbagePercent = 50

// keepSmall holds the memory down, unless GOGC says otherwise.
func keepSmall(gogc string) {
	if gogc == "" {
		debug.SetGCPercent(garbagePercent)
	}
}
