package desk

import (
	"aftbay/geom/clearance"
	"aftbay/geom/layout"
	"aftbay/gui/phrase"
)

// WriteRules writes the built-in least clearances into the layout, where they
// can be edited; the answers stay the same.
func (d *Desk) WriteRules() error {
	return d.Edit(phrase.Of("write the built-in rules into the layout"), func(doc *layout.Document) error {
		doc.Rules = clearance.WrittenOut(doc)
		return nil
	})
}
