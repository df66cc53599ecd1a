// Package demo builds the invented car "Bramble" from numbers: a two-seat coupe
// with a V6 lying along the car behind the cabin and a transaxle behind it, as
// a layout folder with some sixty closed envelopes.
//
// Two variants tell one story. In bramble-a, the earlier layout, the primaries
// run down beside the block, the sump is deep and the oil tank stands tall
// beside the engine: the coils on the covers stay cool, but the deep sump ends
// the drop early, the tank is short to the deck lid and the exhaust passes
// closely over the half-shafts. In bramble-b, the later one, the primaries
// sweep up over the heads, the dry sump is shallow and its tank sits on the
// transaxle: the drop is longer and ends at a half-shaft angle at full bump,
// the plenum is short to the deck lid until the powertrain has come down, coil
// 5 sits right beside primary 5, and one oil hose clips a subframe tube.
//
// Units mm and vehicle axes; all meshes but coils and sensors stand where they
// belong, so that their poses are zero. Same variant, same bytes.
//
// Limits: everything is invented, shapes and loads alike; figures from tables
// carry their source in the layout. It is no design advice.
package demo
