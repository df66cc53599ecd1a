package thermal

// Node is one part of the network.
type Node struct {
	Name       string
	Held       bool    // its temperature is given
	PowerW     float64 // own power
	CapacityJK float64 // heat capacity; used after key-off only
	FilmAreaM2 float64 // surface that the air sweeps
	PlumeShare float64 // of it, what lies in hotter air above hot parts
	// Film returns the film coefficient for a surface in air; nil means none.
	Film func(surfaceK, airK float64) float64
}

// Ambient is what surrounds all nodes.
type Ambient struct {
	AirK, SurroundingsK float64
	PlumeK              float64 // how much hotter the air is above hot parts
}

// Network is a set of nodes with everything that links them. All matrices are
// square in the number of nodes; nil means no link of that kind.
type Network struct {
	Nodes []Node
	// FromM2[i][j]: what node i absorbs per σT⁴ of node j, reflections
	// included; the diagonal is what comes back to the node itself.
	FromM2 [][]float64
	// FromAroundM2[i]: the same from the black surroundings.
	FromAroundM2 []float64
	// EmitM2[i]: what node i radiates per σT⁴ of its own.
	EmitM2 []float64
	// MountWK[i][j]: symmetric conductances.
	MountWK [][]float64
}

// Flows are the heat flows into one node, W; negative means out of it.
type Flows struct {
	RadiativeW, ConvectiveW, ConductedW, PowerW float64
}

// NetW returns the sum of the flows: zero for a node that has settled.
func (f Flows) NetW() float64 { return f.RadiativeW + f.ConvectiveW + f.ConductedW + f.PowerW }

// AirK returns the air of node i: that of the bay, hotter as far as it lies in
// the plume.
func (n *Network) AirK(i int, around Ambient) float64 {
	return around.AirK + n.Nodes[i].PlumeShare*around.PlumeK
}

// FilmWM2K returns the film coefficient of node i at a temperature.
func (n *Network) FilmWM2K(i int, surfaceK, airK float64) float64 {
	if n.Nodes[i].Film == nil {
		return 0
	}
	return n.Nodes[i].Film(surfaceK, airK)
}

// Flows returns the heat flows into node i; tempsK holds one temperature per
// node. Cost: linear in the number of nodes.
func (n *Network) Flows(i int, tempsK []float64, around Ambient) Flows {
	own := tempsK[i]
	node := &n.Nodes[i]
	f := Flows{PowerW: node.PowerW}
	if n.FromM2 != nil {
		f.RadiativeW = n.FromAroundM2[i]*EmissiveWM2(around.SurroundingsK) - n.EmitM2[i]*EmissiveWM2(own)
		for j, areaM2 := range n.FromM2[i] {
			if areaM2 != 0 {
				f.RadiativeW += areaM2 * EmissiveWM2(tempsK[j])
			}
		}
	}
	if node.Film != nil {
		airK := n.AirK(i, around)
		f.ConvectiveW = node.Film(own, airK) * node.FilmAreaM2 * (airK - own)
	}
	if n.MountWK != nil {
		for j, wk := range n.MountWK[i] {
			f.ConductedW += wk * (tempsK[j] - own)
		}
	}
	return f
}

// slopeStepK is the step of the one-sided difference that finds how a film's
// heat flow changes with the surface: small beside any temperature difference
// that matters, large beside rounding.
const slopeStepK = 1e-3

// SlopesWK writes ∂(net flow into node i)/∂(temperature of node j) into row,
// one entry per node.
func (n *Network) SlopesWK(i int, tempsK []float64, around Ambient, rowWK []float64) {
	clear(rowWK)
	own := tempsK[i]
	node := &n.Nodes[i]
	if n.FromM2 != nil {
		for j, areaM2 := range n.FromM2[i] {
			t := tempsK[j]
			rowWK[j] = 4 * StefanBoltzmannWM2K4 * areaM2 * t * t * t
		}
		rowWK[i] -= 4 * StefanBoltzmannWM2K4 * n.EmitM2[i] * own * own * own
	}
	if node.Film != nil {
		airK := n.AirK(i, around)
		here := node.Film(own, airK) * (airK - own)
		there := node.Film(own+slopeStepK, airK) * (airK - own - slopeStepK)
		rowWK[i] += node.FilmAreaM2 * (there - here) / slopeStepK
	}
	if n.MountWK != nil {
		for j, wk := range n.MountWK[i] {
			rowWK[j] += wk
			rowWK[i] -= wk
		}
	}
}
