package layout

import (
	"bytes"

	"aftbay/geom/say"
)

// Misfit is a fault by the path of the value that it is about, such as
// /parts/3/thermal/power_W: what an editor shows beside that value.
type Misfit struct {
	Path string
	Fault
}

// Read is Decode of a text in memory that tells faults by their paths. A missing
// key is told at its own path. The document is nil where there are any.
func Read(data []byte) (*Document, []Misfit, error) {
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	t, stop := readTree(data)
	if stop == nil {
		stop = otherFormat(t)
	}
	if stop != nil {
		return nil, []Misfit{{Path: stop.path, Fault: Fault{What: stop.what, Mend: stop.mend}}}, nil
	}
	doc, list, err := assess(t, data)
	if err != nil || len(list) == 0 {
		return doc, nil, err
	}
	t.look(list)
	t.inOrder(list)
	var out []Misfit
	for _, p := range list {
		m := Misfit{Path: p.path, Fault: Fault{Where: t.words(p.path), What: p.what, Mend: p.mend}}
		if p.lacks != "" {
			m.Path, m.What, m.Mend = p.path+"/"+p.lacks, say.Of("it must be given"), say.Text{}
		} else if p.key != "" {
			m.Path += "/" + p.key
		}
		out = append(out, m)
	}
	return nil, out, nil
}
