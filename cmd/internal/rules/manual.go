package rules

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"strings"
)

// Where the layout file is described: for machines and for people.
const (
	schemaPath = "assets/layout.schema.json"
	manualPath = "DEVELOPERS.md"
)

// Manual finds keys of the layout file's schema that the developers' guide
// does not name, in backquotes.
func Manual(m *Module) ([]Finding, error) {
	data, err := fs.ReadFile(m.FS, schemaPath)
	if err != nil {
		return nil, err
	}
	manual, err := fs.ReadFile(m.FS, manualPath)
	if err != nil {
		return nil, err
	}
	var schema any
	if err := json.Unmarshal(data, &schema); err != nil {
		return nil, fmt.Errorf("%s: %w", schemaPath, err)
	}
	keys := map[string]bool{}
	gatherKeys(schema, keys)
	var out []Finding
	for _, key := range slices.Sorted(maps.Keys(keys)) {
		if !strings.Contains(string(manual), "`"+key+"`") {
			out = append(out, Finding{manualPath, "does not name the layout key `" + key + "` of " + schemaPath})
		}
	}
	return out, nil
}

// gatherKeys collects the names under every "properties" of a schema.
func gatherKeys(node any, keys map[string]bool) {
	switch node := node.(type) {
	case map[string]any:
		for name, child := range node {
			if properties, ok := child.(map[string]any); ok && name == "properties" {
				for key := range properties {
					keys[key] = true
				}
			}
			gatherKeys(child, keys)
		}
	case []any:
		for _, child := range node {
			gatherKeys(child, keys)
		}
	}
}
