package report

import (
	"bufio"
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"

	"aftbay/geom"
)

// boxSteps is into how many steps the scene's box is cut along each axis: 16 bits,
// for a bay of 4 m a tenth of a millimetre and less.
const boxSteps = math.MaxUint16

// webScene is the scene as the script of the page reads it.
type webScene struct {
	Low   geom.Vec  `json:"low"`     // of the box, mm
	Step  geom.Vec  `json:"step"`    // mm per step along each axis
	Heat  string    `json:"heat"`    // case that the temperatures are of
	Scale []webTint `json:"scale"`   // of the temperatures' colours
	About string    `json:"comment"` // what a reader must know
	Parts []webBody `json:"parts"`   // in the order of the model; written one by one
}

// webTint is one step of the scale; the temperature as it is printed.
type webTint struct {
	DegC   string   `json:"degC"`
	Colour [3]uint8 `json:"colour"`
}

type webBody struct {
	Name    string   `json:"name"`
	Role    string   `json:"role"`
	Verdict string   `json:"verdict"`
	DegC    string   `json:"degC"`
	Ghost   bool     `json:"ghost"`
	Colours [3]uint8 `json:"roleColour"`
	ByWord  [3]uint8 `json:"verdictColour"`
	ByHeat  [3]uint8 `json:"heatColour"`
	Corners string   `json:"corners"` // base64 of little-endian uint16, three a corner
	Faces   string   `json:"faces"`   // base64 of little-endian uint32, three a facet
}

// writeScene writes the view of the scene, nothing without one.
func writeScene(w *bufio.Writer, m *Model) error {
	if m.Scene == nil || len(m.Scene.Bodies) == 0 {
		return nil
	}
	box := geom.EmptyBox()
	for i := range m.Scene.Bodies {
		for _, v := range m.Scene.Bodies[i].Mesh.Verts {
			box = box.Grow(v)
		}
	}
	s := webScene{Low: box.Min, Heat: m.Scene.HeatCase, About: "Places are rounded to the step; every figure in the tables is of the exact shapes."}
	for _, tint := range m.Scene.HeatScale {
		s.Scale = append(s.Scale, webTint{shown(&tint.AtDegC, tempDecimals), tint.Colour})
	}
	for k := range 3 {
		s.Step[k] = math.Max(box.Max[k]-box.Min[k], 1) / boxSteps
	}
	head, err := json.Marshal(s) // escapes <, > and &, so that no text can end the script
	if err != nil {
		return err
	}
	const ends = "null}" // of the list of parts, none yet
	fmt.Fprintf(w, "<section id=\"scene\" class=\"screen\"><h2>The scene</h2>\n<p class=\"small\">Drag to turn, with Shift to shift, wheel to come closer; a click names a part, a double click fits all. "+
		"%s</p>\n<div id=\"view\"><canvas id=\"gl\"></canvas><div id=\"says\"></div><div id=\"bar\"></div><div id=\"key\"></div></div>\n<script type=\"application/json\" id=\"scene-data\">%s[", esc(s.About), head[:len(head)-len(ends)])
	for i := range m.Scene.Bodies {
		part, err := json.Marshal(s.body(&m.Scene.Bodies[i]))
		if err != nil {
			return err
		}
		if i > 0 {
			w.WriteString(",")
		}
		w.Write(part)
	}
	_, err = w.WriteString("]}</script></section>\n")
	return err
}

func (s *webScene) body(o *Body) webBody {
	out := webBody{
		Name: o.Name, Role: o.Role, Verdict: string(o.Verdict), DegC: "", Ghost: o.Ghost,
		Colours: o.Colour, ByWord: o.verdictColour(), ByHeat: o.heatColour(),
	}
	if o.NominalDegC != nil {
		out.DegC = shown(o.NominalDegC, tempDecimals)
	}
	corners := make([]byte, 0, 6*len(o.Mesh.Verts))
	for _, v := range o.Mesh.Verts {
		for k := range 3 {
			corners = binary.LittleEndian.AppendUint16(corners, uint16(math.Round((v[k]-s.Low[k])/s.Step[k])))
		}
	}
	faces := make([]byte, 0, 12*len(o.Mesh.Tris))
	for _, t := range o.Mesh.Tris {
		for _, i := range t {
			faces = binary.LittleEndian.AppendUint32(faces, uint32(i))
		}
	}
	out.Corners, out.Faces = base64.StdEncoding.EncodeToString(corners), base64.StdEncoding.EncodeToString(faces)
	return out
}
