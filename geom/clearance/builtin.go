package clearance

import "aftbay/geom/layout"

// Words that say where a built-in figure comes from.
const (
	habit    = "common practice, no source"
	student  = "Formula Student rules, fuel system location clause (second-hand)"
	builders = "Light commercial vehicle body-builder manual, Feb 2015, p. 219"
	aircraft = "FAA AC 43.13-1B CHG 1, para 11-96 w (2 in with close clamps; 6 in where practicable)"
	steering = "Service handbook 2009, steering pipe clearance table"
	workshop = "Vehicle workshop page on brake pipes (second-hand, translated)"
	itself   = "the keep-out solid itself"
)

// builtIn is the table of least clearances by role that holds until the file
// says otherwise. Figures are the published ones where one was found; habits
// say so. Read-only.
var builtIn = []Rule{
	{A: "role:sightline", B: "*", State: layout.StateStatic, LeastMM: 0, Source: itself, BuiltIn: true},
	{A: "role:exhaust", B: "role:fuel", State: layout.StateStatic, LeastMM: 50, Source: student, BuiltIn: true},
	{A: "role:exhaust", B: "role:harness", State: layout.StateStatic, LeastMM: 200, Source: builders + "; less only with a heat insulator", BuiltIn: true},
	{A: "role:harness", B: "role:fuel", State: layout.StateStatic, LeastMM: 50.8, Source: aircraft, BuiltIn: true},
	{A: "role:brake", B: "role:harness", State: layout.StateStatic, LeastMM: 10, Source: workshop, BuiltIn: true},
	{A: "role:brake", B: "role:harness", State: layout.StateMoving, LeastMM: 25, Source: workshop, BuiltIn: true},
	{A: "role:hose", B: "role:suspension", State: layout.StateStatic, LeastMM: 10, Source: steering + ", items 1-27", BuiltIn: true},
	{A: "role:hose", B: "role:deck", State: layout.StateStatic, LeastMM: 10, Source: steering + ", items 1-27", BuiltIn: true},
	{A: "role:hose", B: "role:intake", State: layout.StateStatic, LeastMM: 10, Source: steering + ", items 1-27", BuiltIn: true},
	{A: "role:hose", B: "role:harness", State: layout.StateStatic, LeastMM: 10, Source: steering + ", items 1-27", BuiltIn: true},
	{A: "role:hose", B: "role:body", State: layout.StateStatic, LeastMM: 15, Source: steering + ", frame side items", BuiltIn: true},
	{A: "role:engine", B: "role:body", State: layout.StateStatic, LeastMM: 15, Source: habit, BuiltIn: true},
	{A: "role:engine", B: "role:firewall", State: layout.StateStatic, LeastMM: 15, Source: habit, BuiltIn: true},
	{A: "role:engine", B: "role:suspension", State: layout.StateStatic, LeastMM: 15, Source: habit, BuiltIn: true},
	{A: "role:engine", B: "role:body", State: layout.StateMoving, LeastMM: 10, Source: habit, BuiltIn: true},
	{A: "role:engine", B: "role:firewall", State: layout.StateMoving, LeastMM: 10, Source: habit, BuiltIn: true},
	{A: "role:engine", B: "role:suspension", State: layout.StateMoving, LeastMM: 10, Source: habit, BuiltIn: true},
	{A: "role:transaxle", B: "role:body", State: layout.StateMoving, LeastMM: 10, Source: habit, BuiltIn: true},
	{A: "role:transaxle", B: "role:suspension", State: layout.StateMoving, LeastMM: 10, Source: habit, BuiltIn: true},
	{A: "role:intake", B: "role:deck", State: layout.StateMoving, LeastMM: 15, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:body", State: layout.StateHot, LeastMM: 50, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:firewall", State: layout.StateHot, LeastMM: 50, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:deck", State: layout.StateHot, LeastMM: 50, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:brake", State: layout.StateHot, LeastMM: 75, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:hose", State: layout.StateHot, LeastMM: 75, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:coolant", State: layout.StateHot, LeastMM: 75, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:half-shaft", State: layout.StateHot, LeastMM: 75, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:oil tank", State: layout.StateHot, LeastMM: 50, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:coil", State: layout.StateHot, LeastMM: 50, Source: habit, BuiltIn: true},
	{A: "role:exhaust", B: "role:sensor", State: layout.StateHot, LeastMM: 50, Source: habit, BuiltIn: true},
	{A: "role:half-shaft", B: "role:hose", State: layout.StateMoving, LeastMM: 20, Source: habit, BuiltIn: true},
	{A: "role:half-shaft", B: "role:coolant", State: layout.StateMoving, LeastMM: 20, Source: habit, BuiltIn: true},
	{A: "role:half-shaft", B: "role:harness", State: layout.StateMoving, LeastMM: 20, Source: habit, BuiltIn: true},
	{A: "role:wheel", B: "role:body", State: layout.StateMoving, LeastMM: 20, Source: habit, BuiltIn: true},
	{A: "role:wheel", B: "role:exhaust", State: layout.StateMoving, LeastMM: 20, Source: habit, BuiltIn: true},
}

// IsHabit reports whether a source line says that the figure is a habit.
func IsHabit(source string) bool { return source == "" || source == habit }
