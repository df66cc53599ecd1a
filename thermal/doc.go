// Package thermal holds the vocabulary of the heat estimate: constants, and the
// network of parts that exchange heat by radiation, convection and conduction.
//
// Units are SI and kelvin throughout thermal; only thermal/patch turns the
// millimetres of geom into metres.
//
// Method: every part is one node with one temperature. Radiation between nodes
// comes from thermal/radiate as exchange areas that include reflections;
// convection as films from thermal/convect; conduction as given mounts.
// thermal/balance solves the standing state, thermal/soak what follows after
// key-off.
//
// Limits: an estimate for comparing positions; not a release. One temperature
// per part hides gradients of tens of kelvin in plastic parts, and the air's
// temperature and speed are inputs.
package thermal
