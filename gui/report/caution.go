package report

// StandingCautions returns the warnings that every report carries. They hold no
// figures; the caller adds rows from the tables it used.
func StandingCautions() []Caution {
	return []Caution{
		{
			Title: "Hot surfaces burn skin",
			Text: "Bare metal hurts far below the temperatures in this report: the burn threshold falls with the time of " +
				"contact and depends on the material. Keep surfaces that a hand can reach cool or covered, and let the " +
				"powertrain cool before work.",
		},
		{
			Title: "Leaking fluids can ignite on hot surfaces",
			Text: "Fuel, oil, brake and coolant fluids ignite on hot surfaces over a wide range that depends on air flow, " +
				"surface and time. Closed-vessel figures lie lower still. Compare the lower end of the range, with reserve, " +
				"with every surface that a leak can reach.",
		},
		{
			Title: "Parts get hotter after key-off",
			Text: "Without air flow, parts near the exhaust go on warming for many minutes, and stay hot for much longer. " +
				"Fans may start by themselves. Wait, then measure before touching.",
		},
		{
			Title: "A raised vehicle or a hanging powertrain can fall",
			Text: "Never work below a vehicle that rests on a jack alone, nor below a powertrain on a hoist. Use stands and " +
				"slings rated for the mass, on firm ground, and keep people out of the way of the load.",
		},
		{
			Title: "Local codes and qualified people decide",
			Text: "This report compares positions on a screen. It replaces no test, no standard, no inspection. Where local " +
				"codes, the maker's instructions or a qualified person say otherwise, follow them.",
		},
	}
}
