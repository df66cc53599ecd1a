package layout

import (
	"reflect"
	"strings"
	"testing"

	"aftbay/geom"
)

func TestReadPositions(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"usual", "name,x_mm,y_mm,z_mm,roll_deg,pitch_deg,yaw_deg\nfull torque,-3,0,5.5,2,0,0\n\"idle, hot\",0,0,0,0,0,-1\n"},
		{"other order, less columns", "yaw_deg, z_mm ,roll_deg,name,x_mm\n,5.5,2,full torque,-3\n-1,,,\"idle, hot\",\n"},
		{"byte order mark, other line ends", "\ufeffname,x_mm,z_mm,roll_deg,yaw_deg\r\nfull torque, -3, 5.5, 2,0\r\n\r\n\"idle, hot\",0,0,0,-1\r\n"},
	} {
		got, err := ReadPositions([]byte(c.text), "p.csv")
		want := []Position{
			{Name: "full torque", ShiftMM: geom.Vec{-3, 0, 5.5}, TurnDeg: geom.Vec{2, 0, 0}},
			{Name: "idle, hot", TurnDeg: geom.Vec{0, 0, -1}},
		}
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: got %v, %v", c.name, got, err)
		}
	}
}

func TestReadPositionsFaults(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "p.csv: the table is empty"},
		{"headings alone", "name,x_mm\n", "p.csv:1: the table holds no load case"},
		{"no name", "x_mm\n1\n", `p.csv:1: no column "name"`},
		{"unknown column", "name,x\na,1\n", `p.csv:1: unknown column "x"; the columns are`},
		{"misspelt column", "name,rol_deg\na,1\n", `did you mean "roll_deg"?`},
		{"column twice", "name,x_mm,x_mm\na,1,2\n", `the column "x_mm" stands twice`},
		{"no number", "name,x_mm\na,1\nb,two\n", `p.csv:3: x_mm: "two" is no finite number`},
		{"infinite", "name,x_mm\na,Inf\n", `"Inf" is no finite number`},
		{"name missing", "name,x_mm\n,1\n", `p.csv:2: the load case has no name`},
		{"name twice", "name,x_mm\na,1\na,2\n", `p.csv:3: the name "a" is taken`},
		{"cell missing", "name,x_mm\na\n", "p.csv:2: wrong number of fields"},
		{"semicolons", "name;x_mm\na;1\n", `unknown column "name;x_mm"`},
		{"decimal comma", "name,x_mm\na,1,5\n", "p.csv:2: wrong number of fields"},
		{"endless", "name\n" + strings.Repeat("x\n", maxShown+1), "is taken"},
	} {
		got, err := ReadPositions([]byte(c.text), "p.csv")
		if got != nil || err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, %v, want %s", c.name, got, err, c.want)
		}
	}
}
