package field

import (
	"slices"
	"strings"
)

// unitNames are the units that a key may end in, the longest first. Read-only.
var unitNames = [][2]string{
	{"_W_m2K", "W/(m²·K)"},
	{"_W_mK", "W/(m·K)"},
	{"_J_kgK", "J/(kg·K)"},
	{"_kg_m3", "kg/m³"},
	{"_J_K", "J/K"},
	{"_N_mm", "N/mm"},
	{"_degC", "°C"},
	{"_deg", "°"},
	{"_m_s", "m/s"},
	{"_mm", "mm"},
	{"_kg", "kg"},
	{"_Nm", "N·m"},
	{"per_K", "1/K"},
	{"W_K", "W/K"},
	{"_K", "K"},
	{"_W", "W"},
	{"_s", "s"},
	{"_g", "g"},
	{"minutes", "min"},
	{"g", "g"},
}

// wholeKeys are the units of keys that say nothing else. Read-only.
var wholeKeys = []string{"per_K", "W_K", "minutes", "g"}

// unitOf returns the unit that a key says, "" for none.
func unitOf(key string) string {
	for _, u := range unitNames {
		if key == u[0] || strings.HasSuffix(key, u[0]) && !slices.Contains(wholeKeys, u[0]) {
			return u[1]
		}
	}
	return ""
}

// labelOf returns what a value is called: the title of its schema, else its key
// in words without the unit.
func labelOf(key string, schema map[string]any) string {
	if title := textAt(schema, "title"); title != "" {
		return title
	}
	if !slices.Contains(wholeKeys, key) {
		for _, u := range unitNames {
			if short, ok := strings.CutSuffix(key, u[0]); ok && short != "" && strings.HasPrefix(u[0], "_") {
				key = short
				break
			}
		}
	}
	return strings.ReplaceAll(key, "_", " ")
}
