// Package demo builds the invented car "Bramble" from numbers: a two-seat coupe
// with a V6 lying along the car behind the cabin and a transaxle behind it, as
// a layout folder with some sixty closed envelopes.
//
// Two variants tell one story. In bramble-a, the earlier layout, the primaries
// run down beside the block, the sump is deep and the oil tank stands tall
// beside the engine. The coils on the covers stay cool, but the crank sensor and
// the half-shaft boots get warm; the sump ends the drop early; the deck lid
// stands high for the plenum, hides the near edge of the rear view, and the tank
// is still short to it. In bramble-b, the later one, the primaries sweep up over
// the heads, the dry sump is shallow and its tank sits on the transaxle. The lid
// is 10 mm lower, so that the rear view is free and the plenum is short to the
// lid until the powertrain has come down by some 10 mm; the drop ends at some 28 mm
// with a half-shaft angle at full bump, just before the bell housing is short to
// the undertray. Coil 5 sits beside primary 5, where no shield fits, and is over
// its limit; low on the block it would be cool. One oil hose clips a subframe
// tube: the only overlap.
//
// Units mm and vehicle axes; all meshes but coils and sensors stand where they
// belong, so that their poses are zero. Same variant, same bytes.
//
// Limits: everything is invented, shapes and loads alike; figures from tables
// carry their source in the layout. It is no design advice.
package demo
