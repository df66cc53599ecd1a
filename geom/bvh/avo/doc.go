// Command avo writes the assembly of the eight-wide ray walks of package
// bvh: the .s file and its Go stubs. It is a module of its own, so that the
// program does not carry what only the generator needs. Run it, after a change
// here or to the fields of bvh's shot, flight, wideNode or block, by
//
//	go generate ./geom/bvh
//
// and commit what it wrote. Field offsets are read from the types themselves.
//
// boxes.go holds the test of eight boxes and the order in which they are
// entered, leaf.go the test of four triangles, walk.go how they hang together;
// octet.go is the box test alone. volley.go is the walk of many rays together, which
// shares the triangles with leaf.go, and aim.go makes four of them ready.
package main
