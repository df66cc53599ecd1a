package layout

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"aftbay/geom"
	"aftbay/geom/say"
)

// Position is one named load case of a group.
type Position struct {
	Name    string
	ShiftMM geom.Vec // x, y, z
	TurnDeg geom.Vec // roll, pitch, yaw about the group's pivot, before the shift
}

// What a table may hold at most. Names and places have the bounds of those in a
// layout file.
const (
	maxPositions  = 10_000 // load cases
	maxTableBytes = 4 << 20
	maxColumns    = 50
	maxName       = 200 // letters
	maxPlace      = 1e7 // mm or degrees
)

// positionColumns returns the columns of a positions table in their usual order.
func positionColumns() []string {
	return []string{"name", "x_mm", "y_mm", "z_mm", "roll_deg", "pitch_deg", "yaw_deg"}
}

// Positions reads the named load cases of a group, none if it has no table.
func (f *Folder) Positions(g *Group) ([]Position, error) {
	if g.Positions == "" {
		return nil, nil
	}
	if err := CheckPath(g.Positions); err != nil {
		return nil, err
	}
	data, err := f.read(g.Positions, maxTableBytes)
	if err != nil {
		return nil, err
	}
	return ReadPositions(data, g.Positions)
}

// ReadPositions reads a table of load cases: comma-separated, first line the
// headings name, x_mm, y_mm, z_mm, roll_deg, pitch_deg, yaw_deg in any order;
// name is required, an absent column or empty cell is 0. where names the file
// in faults, all of which come back at once as Faults.
func ReadPositions(data []byte, where string) ([]Position, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	r := csv.NewReader(bytes.NewReader(data))
	r.TrimLeadingSpace = true
	r.ReuseRecord = true
	head, err := r.Read()
	if err != nil {
		return nil, Faults{tableFault(where, err)}
	}
	if len(head) > maxColumns {
		return nil, Faults{{
			Where: where + ":1", What: say.F("%d columns", len(head)),
			Mend: say.F("the columns are %s", strings.Join(positionColumns(), ",")),
		}}
	}
	p := positionReader{where: where, columns: trimmed(head), seen: map[string]bool{}}
	p.checkHead()
	for len(p.faults) < maxShown {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil && len(p.list) == maxPositions {
			err = say.Errorf("more than %d load cases", maxPositions)
		}
		if err != nil {
			p.faults = append(p.faults, tableFault(where, err))
			break
		}
		line, _ := r.FieldPos(0)
		p.row(line, trimmed(row))
	}
	if len(p.list) == 0 && len(p.faults) == 0 {
		p.fault(1, say.Of("the table holds no load case, so that the group would not move"), say.Of("write one load case a line, or leave out positions"))
	}
	if err := p.faults.asError(); err != nil {
		return nil, err
	}
	return p.list, nil
}

// positionReader gathers the rows of one table.
type positionReader struct {
	where   string
	columns []string
	seen    map[string]bool
	list    []Position
	faults  Faults
}

func (p *positionReader) fault(line int, what, mend say.Text) {
	p.faults = append(p.faults, Fault{Where: fmt.Sprintf("%s:%d", p.where, line), What: what, Mend: mend})
}

func (p *positionReader) checkHead() {
	known := positionColumns()
	for i, c := range p.columns {
		if slices.Contains(p.columns[:i], c) {
			p.fault(1, say.F("the column %q stands twice", clip(c)), say.Of("keep one"))
		} else if !slices.Contains(known, c) {
			p.fault(1, say.F("unknown column %q", clip(c)), suggest(c, known, say.Of("the columns are")))
		}
	}
	if !slices.Contains(p.columns, known[0]) {
		p.fault(1, say.Of("no column \"name\""), say.F("start the table with %s", strings.Join(known, ",")))
	}
}

func (p *positionReader) row(line int, cells []string) {
	var pos Position
	known := positionColumns()
	for i, cell := range cells {
		k := slices.Index(known, p.columns[i])
		if k == 0 {
			pos.Name = cell
		}
		if k <= 0 || cell == "" {
			continue
		}
		v, err := strconv.ParseFloat(cell, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			p.fault(line, say.F("%s: %q is no finite number", p.columns[i], clip(cell)), say.Of("write it as 12.5"))
			continue
		}
		if math.Abs(v) > maxPlace {
			p.fault(line, say.F("%s: %q is too large", p.columns[i], clip(cell)), say.F("the most is %g", maxPlace))
			continue
		}
		if k <= 3 {
			pos.ShiftMM[k-1] = v
		} else {
			pos.TurnDeg[k-4] = v
		}
	}
	switch {
	case pos.Name == "":
		p.fault(line, say.Of("the load case has no name"), say.Of("fill the column name"))
	case utf8.RuneCountInString(pos.Name) > maxName:
		p.fault(line, say.F("the name has %d letters, more than %d", utf8.RuneCountInString(pos.Name), maxName), say.Of("shorten it"))
	case !utf8.ValidString(pos.Name) || strings.ContainsFunc(pos.Name, unicode.IsControl):
		p.fault(line, say.F("the name %q has a control character or is no UTF-8 text", clip(pos.Name)), say.Of("leave out line breaks; save the table as UTF-8"))
	case p.seen[pos.Name]:
		p.fault(line, say.F("the name %q is taken", clip(pos.Name)), say.Of("give each load case its own name"))
	}
	p.seen[pos.Name] = true
	p.list = append(p.list, pos)
}

func trimmed(cells []string) []string {
	out := make([]string, len(cells))
	for i, c := range cells {
		out[i] = strings.TrimSpace(c)
	}
	return out
}

// tableFault words what the CSV reader refuses.
func tableFault(where string, err error) Fault {
	mend := say.Of("write one load case a line, cells separated by commas")
	var pe *csv.ParseError
	switch {
	case errors.Is(err, io.EOF):
		return Fault{Where: where, What: say.Of("the table is empty"), Mend: mend}
	case errors.As(err, &pe):
		return Fault{Where: fmt.Sprintf("%s:%d", where, pe.Line), What: say.Words(pe.Err), Mend: mend}
	}
	return Fault{Where: where, What: say.Words(err), Mend: mend}
}
