package desk

import (
	"encoding/json"

	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// copyOf returns a document that shares nothing with the given one.
func copyOf(doc *layout.Document) (*layout.Document, error) {
	data, err := json.Marshal(doc)
	if err != nil {
		return nil, say.Errorf("copy of the layout: %w", err)
	}
	var out layout.Document
	if err := json.Unmarshal(data, &out); err != nil {
		return nil, say.Errorf("copy of the layout: %w", err)
	}
	return &out, nil
}
