// Command pairavo writes the assembly by which package bvh asks the processor
// what it is. It is a module of its own, so that the program does not carry what
// only the generator needs. Run it, after a change here, by
//
//	go generate ./geom/bvh
//
// and commit what it wrote.
package main
