package desk

import (
	"crypto/sha256"
	"encoding/hex"

	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/gui/report"
)

// inputs lists the layout as computed (the text that saving it writes) and the
// files it names, with their check sums.
func (d *Desk) inputs(s *State) ([]report.Input, error) {
	doc := *s.Scene.Doc
	doc.Decisions = s.Doc.Decisions // a decision leaves the scene as it is
	text, err := layout.Encode(&doc)
	if err != nil {
		return nil, err
	}
	in := []report.Input{{Path: layout.FileName, SHA256: sum(text)}}
	d.mu.Lock()
	folder := d.folder
	d.mu.Unlock()
	for _, path := range s.Doc.Files() {
		data, err := folder.ReadFile(path)
		if err != nil {
			return nil, say.Errorf("check sums: %w", err)
		}
		in = append(in, report.Input{Path: path, SHA256: sum(data)})
	}
	return in, nil
}

func sum(data []byte) string {
	h := sha256.Sum256(data)
	return hex.EncodeToString(h[:])
}
