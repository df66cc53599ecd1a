// Package balance answers what gets hot: the temperature at which every part
// settles, or its peak after key-off, low, nominal and high, with the share of
// every source.
//
// Units: SI and kelvin inside; the results speak °C and mm, as the layout does.
//
// Method: parts are cut into patches, view factors shot, the grey exchange
// solved once (thermal/patch, thermal/radiate). Every part is one node: held at
// a given temperature, or settled by its balance of radiation, convection, own
// power and mount, all nodes together by a damped Newton method. Low and high
// come from moving one input at a time by the layout's spread, both ways, and
// joining the changes of a part by the root of their squares: temperature of
// held parts, emissivity of held parts, emissivity of all others, films, air,
// surroundings. What each does is told, the largest first.
// A soak starts from the settled state and follows thermal/soak.
//
// Signs: flows count into the part. NetW is zero for a settled part; for a held
// part it is minus what its own source must supply. BalanceW is the sum of NetW
// over all parts.
//
// Verdicts: over, when the nominal temperature is above the limit; close, when
// only the high one is; ok otherwise; no limit, where none is given. The margin
// is the limit less the nominal temperature, the high margin the limit less the
// high one. A standing case is judged by the
// continuous limit, a soak by the peak limit; where only one is given it serves
// both.
//
// Defaults, each listed in Result.Assumed when used: emissivity of the material,
// else 0.9; wall thickness by role for the heat capacity after key-off and for
// the skin; spread 50 K, emissivities from low to high of the material, else 0.1,
// factor 0.5 to 1.5, 20 K of air and of surroundings (common practice, no
// source).
//
// A part has one temperature; its skin is told apart: the temperature of each
// patch by what falls on it, joined to the part through the wall alone.
//
// Parts with the roles sightline and road are drawings, not matter: they take
// no part.
//
// Limits: those of thermal; the band covers the listed inputs, not the method.
package balance
