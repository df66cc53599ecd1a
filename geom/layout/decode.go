package layout

import (
	"bytes"
	"encoding/json"
	"errors"

	"aftbay/geom/say"
)

// MaxDocumentBytes is the largest layout file that is read: a layout of ten
// thousand parts with every key takes about a third of it.
const MaxDocumentBytes = 16 << 20

// Decode reads a layout file. where names the file in faults. Everything wrong
// is reported at once as Faults; the document is nil then.
func Decode(data []byte, where string) (*Document, error) {
	if len(data) > MaxDocumentBytes {
		return nil, Faults{{
			Where: where, What: say.F("the file has %d bytes", len(data)),
			Mend: say.F("a layout file has at most %d; meshes belong in files of their own", MaxDocumentBytes),
		}}
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // the byte order mark that some editors write
	t, stop := readTree(data)
	if stop != nil {
		return nil, Faults{{Where: where, What: stop.what, Mend: stop.mend}}
	}
	if p := otherFormat(t); p != nil {
		return nil, t.resolve(where, []placed{*p})
	}
	if t.upgrade(oldest, upgrades) {
		var err error
		if data, err = t.text(); err != nil {
			return nil, say.Errorf("layout: %w", err)
		}
	}
	doc, list, err := assess(t, data)
	if err != nil {
		return nil, err
	}
	if err := t.resolve(where, list).asError(); err != nil {
		return nil, err
	}
	return doc, nil
}

// otherFormat returns the fault of a file that isn't a layout of this version:
// all else that one could say about it would be noise.
func otherFormat(t *tree) *placed {
	object, ok := t.root.(map[string]any)
	if !ok {
		return &placed{what: say.Of("the file holds no object {…}"), mend: say.F("a layout starts with {\"format\": \"%s\", …", Format)}
	}
	if format, given := object["format"]; given && format != Format {
		return &placed{path: "/format", what: say.F("%s is another format", shown(format)), mend: say.F("a layout says \"%s\"", Format)}
	}
	if v, ok := object["version"].(float64); ok && v > Version {
		return newer(v)
	}
	return nil
}

// assess returns the document as far as it is readable and all its faults.
func assess(t *tree, data []byte) (*Document, []placed, error) {
	broken, err := schemaFaults(t)
	if err != nil {
		return nil, nil, err
	}
	list := append(t.faults, broken...)
	doc := &Document{}
	// Unmarshal goes on after a value of the wrong type, which the schema has
	// reported; anything it alone refuses is reported here.
	if err := json.Unmarshal(data, doc); err != nil && len(list) == 0 {
		list = append(list, numberFault(err))
	}
	return doc, append(list, semanticFaults(doc)...), nil
}

// numberFault words what Unmarshal refuses although the schema allows it:
// whole numbers written with a point or an exponent.
func numberFault(err error) placed {
	var te *json.UnmarshalTypeError
	if errors.As(err, &te) {
		return placed{
			what: say.F("%s: %s can't be read as a whole number", te.Field, clip(te.Value)),
			mend: say.Of("write it without point or exponent"),
		}
	}
	return placed{what: say.Words(err), mend: say.Of("check the value")}
}

// Check returns everything wrong with a document held in memory, nil if
// nothing: the same as Decode would find in its file.
func Check(doc *Document) error {
	data, err := Encode(doc)
	if err != nil {
		return err
	}
	_, err = Decode(data, "")
	return err
}
