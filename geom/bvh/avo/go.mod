module aftbay/geom/bvh/avo

go 1.26.0

require (
	aftbay v0.0.0-00010101000000-000000000000
	github.com/mmcloughlin/avo v0.6.0
)

require (
	github.com/go-gl/mathgl v1.2.0 // indirect
	github.com/hschendel/stl v1.0.4 // indirect
	golang.org/x/mod v0.42.0 // indirect
	golang.org/x/sync v0.25.0 // indirect
	golang.org/x/sys v0.50.0 // indirect
	golang.org/x/tools v0.52.0 // indirect
)

replace aftbay => ../../..
