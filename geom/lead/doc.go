// Package lead answers how a lead gets from a connector to the point it serves
// without passing through anything: the shortest way that keeps its distance
// from every body, and how long the lead must be.
//
// Units mm, vehicle frame.
//
// Method: around the served point space is cut into cells. The distance to the
// bodies at each cell is found block by block, so that open space costs one
// question. A search from the served point outwards (Dijkstra's order; a cell's
// parent is any cell in sight, not only a neighbour) finds the way to every cell
// at once; one Field answers all connectors. A way is then pulled tight: points
// that can be left out are, the others slide along what they touch; where only
// is asked whether it is short enough, what follows the first cell is pulled
// once for all ways over that cell. What "in
// sight" means is decided on the meshes, by the exact distance of line and
// triangles. Bends are rounded by the least bend radius, their corners moved out
// so that the arc keeps the distance, and the developed length counts.
//
// Limits: bodies stand at rest. A gap narrower than the distance to keep plus
// two cells may be missed, so a way may be longer than the shortest, never
// through a body. Nothing is said of clips, sag and direction at the connector.
//
// Paper: Nash, Koenig, Tovey, "Lazy Theta*: any-angle path planning and path
// length analysis in 3D", 2010 (from memory).
package lead
