package main

import (
	"context"
	"strconv"

	"aftbay/geom"
	springs "aftbay/geom/mounts"
	"aftbay/geom/scene"
	"aftbay/gui/desk"
)

// loadedGroups is the JSON of loads.
type loadedGroups struct {
	Groups []loadedGroup `json:"groups"`
}

type loadedGroup struct {
	Name  string     `json:"name"`
	Loads []loadCase `json:"loads"`
}

// loadCase is where a load takes the group from where it is drawn.
type loadCase struct {
	Name        string         `json:"name"`
	ShiftMM     geom.Vec       `json:"shift_mm"` // of the pivot
	TurnDeg     geom.Vec       `json:"turn_deg"` // roll, pitch, yaw
	SmallTurnMM float64        `json:"small_turn_mm"`
	Mounts      []carriedMount `json:"mounts"`
}

// carriedMount is what a mount does in a case, counted from no load.
type carriedMount struct {
	Name     string   `json:"name"`
	TravelMM geom.Vec `json:"travel_mm"`
	ForceN   geom.Vec `json:"force_N"` // on the group
}

// loads tells where the loads of the groups on mounts take them.
func loads(ctx context.Context, c *call) (bool, error) {
	r, err := solved(ctx, c, func(s *scene.Scene) (*loadedGroups, error) {
		out := &loadedGroups{Groups: []loadedGroup{}}
		for i := range s.Doc.Groups {
			g := &s.Doc.Groups[i]
			cases, err := springs.Cases(g)
			if err != nil {
				return nil, err
			}
			if len(cases) > 0 {
				out.Groups = append(out.Groups, loadedGroup{g.Name, loadCases(cases)})
			}
		}
		return out, nil
	})
	if err != nil {
		return false, err
	}
	return false, c.give(r, loadsTable(r))
}

func loadCases(cases []springs.Case) []loadCase {
	var out []loadCase
	for _, k := range cases {
		one := loadCase{Name: k.Name, ShiftMM: k.ShiftMM, TurnDeg: k.TurnDeg, SmallTurnMM: k.SmallTurnMM}
		for _, m := range k.Mounts {
			one.Mounts = append(one.Mounts, carriedMount{m.Name, m.Travel, m.ForceN})
		}
		out = append(out, one)
	}
	return out
}

// loadsTable has one row for each mount in each case.
func loadsTable(r *loadedGroups) desk.Table {
	var t desk.Table
	for _, head := range []string{"group", "load", "x_mm", "y_mm", "z_mm", "roll_deg", "pitch_deg", "yaw_deg", "small_turn_mm", "mount", "travel_x_mm", "travel_y_mm", "travel_z_mm", "force_x_N", "force_y_N", "force_z_N"} {
		words := head == "group" || head == "load" || head == "mount"
		t.Columns = append(t.Columns, desk.Column{Head: head, Right: !words})
	}
	for _, g := range r.Groups {
		for _, l := range g.Loads {
			for _, m := range l.Mounts {
				cells := []string{g.Name, l.Name}
				cells = append(append(cells, digits(l.ShiftMM, 3)...), digits(l.TurnDeg, 3)...)
				cells = append(cells, strconv.FormatFloat(l.SmallTurnMM, 'f', 3, 64), m.Name)
				cells = append(append(cells, digits(m.TravelMM, 3)...), digits(m.ForceN, 0)...)
				t.Rows = append(t.Rows, desk.Row{Cells: cells})
			}
		}
	}
	t.Foot = []string{
		"", "x to yaw: of the group's pivot, from where the group is drawn; travel and force: of the mount, from no load, the force on the group",
		"small_turn_mm: by how much the small turns that are assumed may misplace a mount; bump stops are not known",
	}
	if len(t.Rows) == 0 {
		t.Foot = []string{"no group of this layout has loads: see groups, mounts and loads in the layout file"}
	}
	return t
}

// digits writes the three parts of a vector. Bare numbers: of any unit.
func digits(v geom.Vec, decimals int) []string {
	var cells []string
	for _, x := range v {
		text := strconv.FormatFloat(x, 'f', decimals, 64)
		if zero, err := strconv.ParseFloat(text, 64); err == nil && zero == 0 {
			text = strconv.FormatFloat(0, 'f', decimals, 64) // no minus before a zero
		}
		cells = append(cells, text)
	}
	return cells
}
