package demo

import "aftbay/geom/layout"

// Where the figures of the rules come from.
const (
	habit    = "common practice, no source"
	student  = "Formula Student rules, fuel system location clause"
	builder  = "light commercial body-builder manual, Feb 2015, p. 219"
	aircraft = "FAA AC 43.13-1B CHG 1, para 11-96 w: 2 in where 6 in is impracticable, with close clamps"
	engines  = "builders' clearance page, engine to any fixed part"
	handbook = "service handbook 2009, steering pipe table items 1-27"
	rigid    = "service handbook 2009, item 30: two fixed rigid parts"
)

// rules returns the least clearances of the layout, least specific first.
func rules() []layout.Rule {
	const (
		static, hot, moving, all = layout.StateStatic, layout.StateHot, layout.StateMoving, layout.StateAll
		train                    = "group:" + powertrain
	)
	return []layout.Rule{
		{A: "*", B: "*", State: static, LeastMM: 1, Source: rigid},
		{A: train, B: train, State: static, LeastMM: 3, Source: habit},
		{A: train, B: "role:body", State: static, LeastMM: 25, Source: habit},
		{A: train, B: "role:body", State: moving, LeastMM: 10, Source: habit},
		{A: "role:engine", B: "role:body", State: static, LeastMM: 25, Source: habit},
		{A: train, B: "role:firewall", State: static, LeastMM: 20, Source: "builders' clearance page, engine front, 20 for a small engine"},
		{A: train, B: "role:suspension", State: static, LeastMM: 15, Source: engines},
		{A: train, B: "role:suspension", State: moving, LeastMM: 8, Source: habit},
		{A: "role:intake", B: "role:deck", State: static, LeastMM: 20, Source: habit},
		{A: "role:intake", B: "role:deck", State: moving, LeastMM: 15, Source: habit},
		{A: "role:intake", B: "role:deck", State: all, LeastMM: 5, Source: habit},
		{A: "role:sightline", B: "role:deck", State: static, LeastMM: 5, Source: habit},
		{A: "role:exhaust", B: "role:fuel", State: static, LeastMM: 50, Source: student},
		{A: "role:harness", B: "role:fuel", State: static, LeastMM: 50.8, Source: aircraft},
		{A: "role:exhaust", B: "role:harness", State: static, LeastMM: 75, Source: habit},
		{A: "part:muffler", B: "role:harness", State: static, LeastMM: 200, Source: builder},
		{A: "role:exhaust", B: "role:coil", State: hot, LeastMM: 50, Source: habit},
		{A: "role:exhaust", B: "role:sensor", State: hot, LeastMM: 50, Source: habit},
		{A: "role:exhaust", B: "role:hose", State: hot, LeastMM: 75, Source: habit},
		{A: "role:exhaust", B: "role:oil tank", State: hot, LeastMM: 75, Source: habit},
		{A: "role:exhaust", B: "role:half-shaft", State: hot, LeastMM: 50, Source: habit},
		{A: "role:exhaust", B: "role:body", State: hot, LeastMM: 50, Source: habit},
		{A: "role:exhaust", B: "role:shield", State: hot, LeastMM: 10, Source: habit},
		{A: "role:exhaust", B: "role:body", State: all, LeastMM: 25, Source: habit},
		{A: "role:hose", B: "role:suspension", State: static, LeastMM: 10, Source: handbook},
		{A: "role:hose", B: "role:harness", State: static, LeastMM: 10, Source: handbook},
		{A: "role:hose", B: "role:intake", State: static, LeastMM: 10, Source: handbook},
		{A: "role:half-shaft", B: "role:hose", State: moving, LeastMM: 20, Source: habit},
		{A: "role:oil tank", B: "role:deck", State: static, LeastMM: 15, Source: habit},
		{A: "role:oil tank", B: "role:firewall", State: static, LeastMM: 15, Source: habit},
		{A: "role:wheel", B: "role:body", State: static, LeastMM: 20, Source: habit},
	}
}
