package material

import (
	"strconv"
	"strings"
)

// Contact is a contact with a surface that may burn skin.
type Contact struct {
	Contact  string  `json:"contact"` // as printed: "1 s", "10 min"
	ContactS float64 `json:"contact_s"`
	FromDegC float64 `json:"from_degC"` // the lower end of the range
	Source   string  `json:"source"`
}

// longS: from a minute on the threshold is the same for all surfaces. Source:
// ISO 13732-1 (from memory).
const longS = 60

// BurnAt returns the shortest contact for which a surface at a temperature may
// burn skin; nil where none in the tables does. Bare smooth metal, or plastic.
func (t *Tables) BurnAt(surfaceDegC float64, metal bool) *Contact {
	var best *Contact
	keep := func(c Contact) {
		if surfaceDegC >= c.FromDegC && (best == nil || c.ContactS < best.ContactS) {
			best = &c
		}
	}
	for _, b := range t.Burns {
		c := Contact{Contact: b.Contact, ContactS: seconds(b.Contact), FromDegC: lowest(b.Temperatures), Source: t.Origin(b.Source, b.Status)}
		if metal || c.ContactS >= longS {
			keep(c)
		}
	}
	for _, b := range t.OtherBurns {
		if !metal && b.Surface == "plastics" {
			keep(Contact{Contact: "1 s", ContactS: 1, FromDegC: lowest(b.Temperatures), Source: t.Origin(b.Source, b.Status)})
		}
	}
	return best
}

// lowest returns the first number of a printed range. Bare numbers: °C.
func lowest(printed string) float64 {
	first, _, _ := strings.Cut(printed, "-")
	v, err := strconv.ParseFloat(strings.TrimSpace(first), 64)
	if err != nil {
		panic("the burn table prints numbers: " + printed)
	}
	return v
}

// seconds returns a printed contact time. Bare numbers: s.
func seconds(printed string) float64 {
	words := strings.Fields(printed)
	v, err := strconv.ParseFloat(words[0], 64)
	if err != nil || len(words) < 2 {
		panic("the burn table prints a number and a unit: " + printed)
	}
	switch words[1] {
	case "min":
		return v * 60
	case "h":
		return v * 3600
	}
	return v
}
