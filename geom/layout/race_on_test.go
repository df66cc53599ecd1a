//go:build race

package layout

// racing tells that the race detector is on: it takes memory and time of its own.
const racing = true
