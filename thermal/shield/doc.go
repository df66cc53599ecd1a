// Package shield answers what a heat shield would do: a thin sheet is put into
// the scene on trial, the heat study is solved again, and before stands beside
// after.
//
// Units: °C and mm outside, as the layout; vehicle frame.
//
// Method: a shell is the part of another part's surface that faces what it is
// to protect, moved outward by the offset along the mean normals; a plate stands
// square to the line between the nearest points of the two parts. Either is a
// sheet of one temperature whose two faces radiate with their own emissivities
// and are both swept by air. All other patches and rays stay as they are, so
// that the difference is the shield's.
//
// Limits: those of thermal/balance. The sheet has neither edges nor holes nor
// brackets; where the surface bends inward sharply the shell may cross itself.
// No air flow between shield and part is computed.
package shield
