//go:build types

package main

// The types that the generator reads; named here so that the module lists them.
import _ "aftbay/geom/bvh"
