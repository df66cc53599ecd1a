// Command pairavo writes the assembly by which package bvh asks the processor
// what it is and bounds eight boxes at once. It is a module of its own, so that
// the program does not carry what only the generator needs. Run it, after a
// change here or to the fields of bvh's octet, facing or near, by
//
//	go generate ./geom/bvh
//
// and commit what it wrote. The plain functions of bvh compute the same bits: no
// fused multiply-add, the same order of operations.
package main
