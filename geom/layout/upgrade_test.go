package layout

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// pretend are steps from versions that never were: -1 had "items" for parts
// and lengths in metres, 0 had "label" for title.
func pretend() []step {
	return []step{
		func(root map[string]any) {
			root["parts"] = root["items"]
			delete(root, "items")
			list, _ := root["parts"].([]any)
			for _, p := range list {
				part, _ := p.(map[string]any)
				m, isNumber := part["tolerance_m"].(float64)
				if isNumber {
					part["tolerance_mm"] = 1000 * m
					delete(part, "tolerance_m")
				}
			}
		},
		func(root map[string]any) {
			root["title"] = root["label"]
			delete(root, "label")
		},
	}
}

// old reads a text as Decode does, with other steps.
func old(t *testing.T, text string, first int, steps []step) (*Document, error) {
	t.Helper()
	tree, stop := readTree([]byte(text))
	if stop != nil {
		t.Fatal(stop)
	}
	tree.upgrade(first, steps)
	data, err := tree.text()
	if err != nil {
		t.Fatal(err)
	}
	doc, list, err := assess(tree, data)
	if err != nil {
		t.Fatal(err)
	}
	return doc, tree.resolve("old.json", list).asError()
}

func TestUpgrade(t *testing.T) {
	const part = `{"name": "a", "role": "engine", "mesh": "a.stl", "tolerance_m": 0.002}`
	for _, text := range []string{
		`{"format": "aftbay-layout", "version": -1, "label": "t", "items": [` + part + `]}`,
		`{"format": "aftbay-layout", "version": 0, "label": "t", "parts": [` + strings.Replace(part, `_m": 0.002`, `_mm": 2`, 1) + `]}`,
		`{"format": "aftbay-layout", "version": 1, "title": "t", "parts": [` + strings.Replace(part, `_m": 0.002`, `_mm": 2`, 1) + `]}`,
	} {
		doc, err := old(t, text, -1, pretend())
		if err != nil || doc.Version != Version || doc.Title != "t" || len(doc.Parts) != 1 || doc.Parts[0].ToleranceMM != 2 {
			t.Errorf("%s: %+v, %v", text, doc, err)
		}
	}
	for text, want := range map[string]string{
		"{\"format\": \"aftbay-layout\", \"version\": 0, \"label\": 5,\n\"parts\": [\n{\"nmae\": \"a\"}]}": "old.json:3: parts[0]: unknown key \"nmae\"; did you mean \"name\"?",
		`{"format": "aftbay-layout", "version": -1, "items": 7}`:                                           "parts: a number stands where a list […] is wanted",
		`{"format": "aftbay-layout", "version": -2, "label": "t"}`:                                         "version: -2 isn't the allowed value; write 1",
		`{"format": "aftbay-layout", "version": 0.5, "label": "t"}`:                                        "version: 0.5 isn't the allowed value; write 1",
		`{"format": "aftbay-layout", "version": "0", "label": "t"}`:                                        `version: "0" isn't the allowed value; write 1`,
	} {
		if _, err := old(t, text, -1, pretend()); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: got %v, want %s", text, err, want)
		}
	}
}

// TestEveryVersionIsRead: the steps lead to today's version, and a file of each
// older one in testdata is read.
func TestEveryVersionIsRead(t *testing.T) {
	if oldest+len(upgrades) != Version {
		t.Fatalf("%d steps lead from version %d to %d, not to %d", len(upgrades), oldest, oldest+len(upgrades), Version)
	}
	for v := oldest; v < Version; v++ {
		name := filepath.Join("testdata", fmt.Sprintf("version%d.json", v))
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if doc, err := Decode(data, name); err != nil || doc.Version != Version {
			t.Errorf("%s: %v", name, err)
		}
	}
}
