package layout

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"aftbay/geom"
)

// TestFaults breaks the maximal file in one place at a time: exactly one fault
// must come back, and it must name place and remedy.
func TestFaults(t *testing.T) {
	whole := string(maximal(t))
	for _, c := range []struct{ name, old, new, want string }{
		{"unknown key", `"mass_kg": 185`, `"massKg": 185`, `m.json:16: parts[0] "engine": unknown key "massKg"; did you mean "mass_kg"?`},
		{"unknown key below", `"W_K": 1.5,`, `"W_K": 1.5, "x": 1,`, `parts[0] "engine", thermal.mount: unknown key "x"; known here: W_K, notes, to`},
		{"unknown key at the top", `"heat": {`, `"hheat": 1, "heat": {`, `m.json:256: unknown key "hheat"; did you mean "heat"?`},
		{"misspelt required key", `"role": "exhaust"`, `"rolle": "exhaust"`, `parts[1] "header": unknown key "rolle"; did you mean "role"?`},
		{"case of a key", `"per_K"`, `"per_k"`, `unknown key "per_k"; did you mean "per_K"?`},
		{"missing key", `"least_mm": 25,`, ``, `rules[0]: missing key "least_mm"; add it`},
		{"key twice", `"patch_mm": 40,`, `"patch_mm": 40, "patch_mm": 30,`, `heat.patch_mm: the key stands twice in one object; keep one of them`},
		{"wrong format", `"aftbay-layout"`, `"other"`, `m.json:2: format: "other" is another format; a layout says "aftbay-layout"`},
		{"newer version", `"version": 1`, `"version": 2`, `version 2 is newer than this program reads (1); open it with a newer program`},
		{"older version", `"version": 1`, `"version": 0`, `version: 0 isn't the allowed value; write 1`},
		{"text for number", `"mass_kg": 185`, `"mass_kg": "185"`, `parts[0] "engine", mass_kg: text stands where a number is wanted`},
		{"number for text", `"material": "aluminium, cast"`, `"material": 3`, `material: a number stands where text is wanted`},
		{"number out of range", `"mass_kg": 185`, `"mass_kg": 1e999`, `mass_kg: the number 1e999 is out of range; write a finite number`},
		{"fraction of a ray", `"rays": 1024`, `"rays": 10.5`, `heat.rays: a number stands where a whole number is wanted`},
		{"whole number with a point", `"rays": 1024`, `"rays": 1024.0`, `heat.rays: number 1024.0 can't be read as a whole number; write it without point or exponent`},
		{"null for a required key", `"role": "exhaust"`, `"role": null`, `role: null stands where text is wanted`},
		{"emissivity", `"emissivity": 0.3`, `"emissivity": 1.3`, `emissivity: the value is too large; the most is 1`},
		{"negative mass", `"mass_kg": 185`, `"mass_kg": -1`, `mass_kg: the value is too small; the least is 0`},
		{"no diameter", `"diameter_mm": 22`, `"diameter_mm": 0`, `routes[0] "feed hose", diameter_mm: the value is too small; it must be more than 0`},
		{"below absolute zero", `"air_degC": 60`, `"air_degC": -300`, `heat.cases[0] "hard drive", air_degC: the value is too small; the least is -273.15`},
		{"per_K in another unit", `0.000023`, `23`, `growth.per_K: the value is too large; the most is 0.001`},
		{"two numbers for a point", `[2100.25, 0, 480]`, `[2100.25, 0]`, `move_mm: 2 values in the list; at least 3 are wanted`},
		{"four numbers for a point", `[2100.25, 0, 480]`, `[2100.25, 0, 480, 1]`, `move_mm: 4 values in the list; at most 3 are wanted`},
		{"too far away", `[2100.25, 0, 480]`, `[2100.25, 0, 1e300]`, `move_mm[2]: the value is too large`},
		{"empty name", `"name": "header"`, `"name": ""`, `parts[1].name: the text is empty`},
		{"name with a space", `"name": "bump"`, `"name": "bump "`, `attitudes[0] "bump ", name: "bump " has the wrong form; leave out spaces at the ends`},
		{"unknown unit", `"mesh_unit": "in"`, `"mesh_unit": "ft"`, `mesh_unit: "ft" isn't one of the allowed values; write "mm", "cm", "m", "in"`},
		{"unknown state", `"all together"`, `"everything"`, `rules[0].state: "everything" isn't one of the allowed values; write "static", "hot", "moving", "all together"`},
		{"bad selector", `"a": "role:exhaust"`, `"a": "exhaust"`, `rules[0].a: "exhaust" has the wrong form; write role:WORD, part:NAME, group:NAME or *`},
		{"bad date", `2027-01-31`, `31.1.2027`, `due: "31.1.2027" has the wrong form; write the date as 2027-01-31`},
		{"no such day", `2027-01-31`, `2027-02-30`, `due: "2027-02-30" is no day of the calendar`},

		{"name taken by a part", `"name": "header"`, `"name": "engine"`, `parts[1] "engine", name: the name "engine" is taken; give each part its own name`},
		{"name taken by a route", `"name": "header"`, `"name": "feed hose"`, `routes[0] "feed hose", name: the name "feed hose" is taken`},
		{"unknown group", "\"group\": \"powertrain\",\n      \"tol", "\"group\": \"powertrian\",\n      \"tol", `parts[0] "engine", group: no group is called "powertrian"; did you mean "powertrain"?`},
		{"unknown mount", `"to": "header"`, `"to": "xyz"`, `mount.to: no part is called "xyz"; the parts are: engine, feed hose, header`},
		{"mounted to itself", `"to": "header"`, `"to": "engine"`, `mount.to: the part is mounted to itself`},
		{"unknown joined part", `["engine", "header"]`, `["engine", "heder"]`, `joined[0][1]: no part is called "heder"; did you mean "header"?`},
		{"joined to itself", `["engine", "header"]`, `["engine", "engine"]`, `joined[0]: "engine" is joined to itself`},
		{"unknown part in a rule", `"part:feed hose"`, `"part:feed hoes"`, `rules[0].b: no part is called "feed hoes"; did you mean "feed hose"?`},
		{"unknown group of hosts", `"group:powertrain", "*"`, `"group:x", "*"`, `spots[0] "coil", hosts[2]: no group is called "x"; the groups are: powertrain`},
		{"unknown drop group", "\"drop\": {\n    \"group\": \"powertrain\"", "\"drop\": {\n    \"group\": \"p\"", `drop.group: no group is called "p"`},
		{"crank in an unknown group", `"crank_group": "powertrain"`, `"crank_group": "q"`, `shaft_lines[0] "crank to input", crank_group: no group is called "q"`},
		{"crank axis of no length", "\"crank_axis\": [1, 0, 0]", "\"crank_axis\": [0, 0, 0]", `crank_axis: the direction [0, 0, 0] points nowhere; give a direction`},
		{"flange axis of no length", `"inner_axis": [0, 1, 0.1]`, `"inner_axis": [0, 0, 0]`, `inner_axis: the direction [0, 0, 0] points nowhere; give a direction`},
		{"map backwards", `"shift_mm": [-30, 30]`, `"shift_mm": [30, -30]`, `drop.shift_mm: the range [30, -30] runs backwards; write the least value first`},
		{"mesh of an alternative", `"name": "shallow",`, `"name": "shallow", "mesh_unit": "ft",`, `alternatives[0]`},
		{"face read on no circle", `"face_diameter_mm": 409.6`, `"face_diameter_mm": 0`, `face_diameter_mm: the value is too small; it must be more than 0`},
		{"unknown part replaced", `"replaces": "engine"`, `"replaces": "engines"`, `replaces: no part is called "engines"; did you mean "engine"?`},
		{"pull nowhere", `"pull": [0, 0, 1]`, `"pull": [0, 0, 0]`, `spots[0] "coil", pull: the direction [0, 0, 0] points nowhere; give a direction`},
		{"swing without handle", "\"swing_mm\": 180,", "", `tool.swing_deg: swing_deg is given without swing_mm; add the length of the handle`},
		{"reach of nothing", `"reach_mm": 450`, `"reach_mm": 0`, `spots[0] "coil", reach_mm: the value is too small; it must be more than 0`},
		{"kept from nobody", `"from": "role:body"`, `"from": "part:bdy"`, `keep_from[0].from: no part is called "bdy"`},
		{"above nobody", `"not_above": ["part:engine"]`, `"not_above": ["part:filler"]`, `not_above[0]: no part is called "filler"`},
		{"no weight at all", "\"temperature\": 2,\n        \"clearance\": 1,\n        \"lead\": 0.5,", `"temperature": 0, "clearance": 0, "lead": 0,`, `weights: every weight is 0; leave at least one margin in the score`},
		{"lead that folds", `"bend_radius_mm": 30`, `"bend_radius_mm": 3`, `lead.bend_radius_mm: the bend radius is less than half the diameter`},
		{"unknown inner group", `"inner_group": "powertrain"`, `"inner_group": "q"`, `half_shafts[0] "left", inner_group: no group is called "q"`},
		{"backward range", `"x_mm": [-8, 8]`, `"x_mm": [8, -8]`, `groups[0] "powertrain", motion.x_mm: the range [8, -8] runs backwards; write the least value first`},
		{"loads without mass", "\n      \"mass_kg\": 290,", "", `groups[0] "powertrain", loads: loads are given without mass_kg; add the mass of all that hangs on the mounts`},
		{"loads without centre of gravity", "\n      \"cg_mm\": [2150, 5, 460],", "", `loads: loads are given without cg_mm; add the centre of gravity`},
		{"loads without what is drawn", `"drawn_g": [0, 0, -1]`, `"drawn_g": null`, `loads: loads are given without drawn_g; add [0, 0, -1] if the parts are drawn as they hang at rest`},
		{"mount without a place", "\"at_mm\": [1900, -250, 400],", "", `groups[0] "powertrain", mounts[0] "front left": missing key "at_mm"; add it`},
		{"load twice", "\"loads\": [", "\"loads\": [{\"name\": \"first gear\"},", `groups[0] "powertrain", loads[1] "first gear", name: the name "first gear" is taken; give each load its own name`},
		{"mount twice", "\"mounts\": [", "\"mounts\": [{\"name\": \"front left\", \"at_mm\": [0, 0, 0], \"k_N_mm\": [1, 1, 1]},", `mounts[1] "front left", name: the name "front left" is taken; give each mount its own name`},
		{"negative stiffness", `"k_N_mm": [150,`, `"k_N_mm": [-150,`, `mounts[0] "front left", k_N_mm[0]: the value is too small; the least is 0`},
		{"weightless", `"mass_kg": 290`, `"mass_kg": 0`, `mass_kg: the value is too small; it must be more than 0`},
		{"g in m/s²", `"g": [0.6, 0, -1]`, `"g": [0.6, 0, -9806]`, `loads[0] "first gear", g[2]: the value is too small; the least is -1000`},
		{"backward drop", `"range_mm": [0, 80]`, `"range_mm": [80, 0]`, `drop.range_mm: the range [80, 0] runs backwards`},
		{"backward factors", `[0.5, 1.5]`, `[1.5, 0.5]`, `heat.spread.film: the range [1.5, 0.5] runs backwards`},
		{"limits swapped", `"continuous": 120`, `"continuous": 160`, `limit_degC: the continuous limit is above the peak limit`},
		{"held twice", `"held_degC": 105,`, `"held_degC": 105, "held_along": {"from_mm":[0,0,0],"to_mm":[1,0,0],"from_degC":1,"to_degC":2},`, `thermal: held_degC and held_along both given; keep one`},
		{"nothing held", `"held_degC": 105,`, ``, `thermal: held_off_K says how far a held temperature may be off, but none is held; give held_degC or held_along, or take it away`},
		{"held along nothing", `"to_mm": [2600, -300, 400]`, `"to_mm": [2000, -300, 500]`, `held_along: from_mm and to_mm are the same point`},
		{"axles swapped", `"rear_axle_mm": [2500, 0, 320]`, `"rear_axle_mm": [-2500, 0, 320]`, `vehicle: the rear axle isn't behind the front axle`},
		{"shaft without length", `"inner_mm": [2450, -150, 330]`, `"inner_mm": [2500, -700, 320]`, `half_shafts[0] "left": inner_mm and outer_mm are the same point`},
		{"eyes twice", `"r_point_mm": [1200, -350, 300]`, `"r_point_mm": [1200, -350, 300], "eyes_mm": [[0,0,0],[0,65,0]]`, `rear_view: r_point_mm and eyes_mm both given`},
		{"one eye", `"r_point_mm": [1200, -350, 300]`, `"eyes_mm": [[0,0,0]]`, `rear_view.eyes_mm: 1 values in the list; at least 2 are wanted`},
		{"mirror twice", `"aim": [1, 0, -0.02]`, `"aim": [1, 0, -0.02], "normal": [1,0,0]`, `rear_view.mirror: normal and aim both given`},
		{"aim at nothing", `"aim": [1, 0, -0.02]`, `"aim": [0, 0, 0]`, `mirror.aim: the direction [0, 0, 0] points nowhere`},
		{"soak after nothing", `"after": "hard drive"`, `"after": "hard drvie"`, `heat.cases[1] "hot soak", after: no case is called "hard drvie"; did you mean "hard drive"?`},
		{"soak after itself", `"after": "hard drive"`, `"after": "hot soak"`, `after: the case follows itself; name an earlier case`},
		{"soak before its case", "\"name\": \"hard drive\",", "\"name\": \"hard drive\", \"after\": \"hot soak\",", `after: the case "hot soak" comes later; put it before this one`},
		{"point twice", `[2000, 300, 500]`, `[2000, 0, 500]`, `routes[0] "feed hose", points_mm[1]: the same point twice in a row`},

		{"absolute path", `"meshes/engine.stl"`, `"/etc/passwd"`, `parts[0] "engine", mesh: the path "/etc/passwd" is absolute; put the file in the layout folder`},
		{"drive letter", `"meshes/engine.stl"`, `"C:/engine.stl"`, `mesh: the path "C:/engine.stl" is absolute`},
		{"path out", `"meshes/engine.stl"`, `"../engine.stl"`, `mesh: the path "../engine.stl" leaves the layout folder`},
		{"path out by a detour", `"meshes/coil.stl"`, `"meshes/../../coil.stl"`, `spots[0] "coil", mesh: the path "meshes/../../coil.stl" leaves the layout folder`},
		{"path with a detour", `"meshes/engine.stl"`, `"meshes/../engine.stl"`, `mesh: the path "meshes/../engine.stl" isn't in its plain form`},
		{"backslash", `"meshes/engine.stl"`, `"meshes\\engine.stl"`, `has a backslash; write it with /`},
		{"control character", `"meshes/engine.stl"`, `"meshes/\u0000.stl"`, `has a control character`},
		{"positions out", `"positions.csv"`, `"../positions.csv"`, `groups[0] "powertrain", positions: the path "../positions.csv" leaves the layout folder`},
		{"mesh is the layout", `"meshes/engine.stl"`, `"layout.json"`, `the path names the layout file itself`},
	} {
		t.Run(c.name, func(t *testing.T) {
			if strings.Count(whole, c.old) == 0 {
				t.Fatalf("%q isn't in the file", c.old)
			}
			doc, err := Decode([]byte(strings.Replace(whole, c.old, c.new, 1)), "m.json")
			if doc != nil || err == nil {
				t.Fatal("accepted")
			}
			f := faultsOf(t, err)
			if len(f) != 1 || !strings.Contains(f[0].Error(), c.want) {
				t.Errorf("got  %v\nwant %s", err, c.want)
			}
			if f[0].Where == "" || f[0].What.IsZero() || f[0].Mend.IsZero() || strings.Contains(f[0].Error(), "\n") {
				t.Errorf("not a full one-line fault: %#v", f[0])
			}
		})
	}
}

// TestAllFaultsAtOnce: faults of the schema and of the references come back
// together, in file order.
func TestAllFaultsAtOnce(t *testing.T) {
	text := strings.NewReplacer(
		`"emissivity": 0.3`, `"emissivity": 3`,
		`"to": "header"`, `"to": "heather"`,
		`"name": "hot soak"`, `"name": "hard drive"`,
		`"air_K"`, `"air"`,
	).Replace(string(maximal(t)))
	_, err := Decode([]byte(text), "m.json")
	want := `m.json:19: parts[0] "engine", emissivity: the value is too large; the most is 1
m.json:35: parts[0] "engine", thermal.mount.to: no part is called "heather"; did you mean "header"?
m.json:267: heat.cases[1] "hard drive", name: the name "hard drive" is taken; give each case its own name
m.json:268: heat.cases[1] "hard drive", after: the case follows itself; name an earlier case
m.json:285: heat.spread: unknown key "air"; did you mean "air_K"?`
	if err == nil || err.Error() != want {
		t.Errorf("got\n%v\nwant\n%s", err, want)
	}
}

func TestUnreadable(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "", "m.json: line 1: not readable as JSON: the file ends too early"},
		{"cut short", "{\n\"format\":", "line 2: not readable as JSON: the file ends too early"},
		{"comma missing", "{\n\"a\": 1\n\"b\": 2}", "line 3: not readable as JSON"},
		{"comma too many", "{\n\"a\": [1,\n]}", "line 3: not readable as JSON"},
		{"two values", "{} {}", "something follows the closing brace"},
		{"no object", "[]", "the file holds no object {…}"},
		{"not UTF-8", "{\"title\": \"\xff\"}", "the file is not UTF-8 text; save it as UTF-8"},
		{"NaN", "{\"a\": NaN}", "not readable as JSON"},
		{"deep", strings.Repeat("[", 100), "nested more than 32 deep"},
		{"large", strings.Repeat(" ", MaxDocumentBytes+1), "the file has 16777217 bytes"},
		{"huge exponent", `{"version": 1e-999999999}`, `missing key "format"`}, // must not hang
	} {
		doc, err := Decode([]byte(c.text), "m.json")
		if doc != nil || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", c.name, err, c.want)
		}
	}
}

// TestLenient: what the contract lets through.
func TestLenient(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"byte order mark", "\ufeff" + `{"format":"aftbay-layout","version":1,"title":"t","parts":[]}`},
		{"null means not given", `{"format":"aftbay-layout","version":1,"title":"t","notes":null,"groups":null,"drop":null,
			"parts":[{"name":"a","role":"engine","mesh":"a.stl","group":null,"mesh_unit":null,"move_mm":null,"mass_kg":null,"thermal":null,"limit_degC":{"peak":null}}],
			"heat":{"cases":[{"name":"c","film_W_m2K":null}],"rays":null}}`},
		{"groups without a list", `{"format":"aftbay-layout","version":1,"title":"t","drop":{"group":"p","range_mm":[0,1]},
			"parts":[{"name":"a","role":"engine","mesh":"a.stl","group":"p"}]}`},
		{"a rule for a role to come", `{"format":"aftbay-layout","version":1,"title":"t","parts":[],"rules":[{"a":"role:gadget","b":"*","least_mm":0}]}`},
		{"vehicle without axles", `{"format":"aftbay-layout","version":1,"title":"t","parts":[],"vehicle":{"mass_kg":1400}}`},
	} {
		doc, err := Decode([]byte(c.text), "m.json")
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if err := Check(doc); err != nil {
			t.Errorf("%s: written back: %v", c.name, err)
		}
	}
}

func TestCheckInMemory(t *testing.T) {
	doc := &Document{Title: "t", Parts: []Part{{Name: "a", Role: "engine", Mesh: "a.stl", Group: "g"}}, Groups: []Group{{Name: "h"}}}
	if err := Check(doc); err == nil || err.Error() != `parts[0] "a", group: no group is called "g"; the groups are: h` {
		t.Errorf("got %v", err)
	}
	doc.Groups[0].Name = "g"
	if err := Check(doc); err != nil {
		t.Errorf("got %v", err)
	}
	doc.Groups[0] = Group{Name: "g", MassKg: new(1.0), CgMM: &geom.Vec{}, DrawnG: &geom.Vec{}, Loads: []Load{{Name: "at rest"}}}
	if err := Check(doc); err == nil || err.Error() != `groups[0] "g", loads: loads are given without mounts; add the places and stiffnesses of its mounts` {
		t.Errorf("got %v", err)
	}
	doc.Groups[0].Loads = nil
	doc.Parts[0].MoveMM = geom.Vec{0, math.NaN(), 0}
	if err := Check(doc); err == nil || err.Error() != "parts[0].move_mm[1]: the number is NaN; give a finite number" {
		t.Errorf("got %v", err)
	}
}

func TestNearest(t *testing.T) {
	known := []string{"mass_kg", "mesh", "move_mm", "name", "coil 1", "coil 2"}
	for word, want := range map[string]string{
		"massKg": "mass_kg", "mehs": "mesh", "moev_mm": "move_mm", "Name": "name", "coil_2": "coil 2", "coil 3": "coil 1",
		"": "", "xyz": "", "temperature": "",
	} {
		got, ok := Nearest(word, known)
		if got != want || ok != (want != "") {
			t.Errorf("%q: got %q, want %q", word, got, want)
		}
	}
}

// FuzzDecode: no input may crash; what is accepted must survive being written
// and read, and being written again must give the same bytes.
func FuzzDecode(f *testing.F) {
	f.Add(maximal(f))
	seeds(f, ".json")
	f.Add([]byte(`{"format":"aftbay-layout","version":1,"title":"","parts":[]}`))
	f.Add([]byte(`{"format":"aftbay-layout","version":1,"title":"<&>\u2028","parts":[{"name":"é","role":"x","mesh":"a","move_mm":[-0,1e-7,1e7],"thermal":{}}]}`))
	f.Add([]byte(`{"format":"aftbay-layout","version":1,"title":"t","parts":[],"heat":{"seed":9007199254740993,"cases":[]},"routes":[]}`))
	f.Add([]byte(`[{"a":[1e999,"\ud800"]},{}]`))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := Decode(data, "fuzz")
		if err != nil {
			faultsOf(t, err)
			return
		}
		first, err := Encode(doc)
		if err != nil {
			t.Fatalf("accepted but not writable: %v", err)
		}
		if !json.Valid(first) {
			t.Fatalf("not JSON: %s", first)
		}
		again, err := Decode(first, "again")
		if err != nil {
			t.Fatalf("own output refused: %v\n%s", err, first)
		}
		second, err := Encode(again)
		if err != nil || string(first) != string(second) {
			t.Fatalf("not stable: %v\n%s\n%s", err, first, second)
		}
	})
}
