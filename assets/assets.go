package assets

import _ "embed"

// LayoutSchema is the layout file as JSON Schema 2020-12. Read-only.
//
//go:embed layout.schema.json
var LayoutSchema string

// ClearanceRules is the table of least clearances by role. Read-only.
//
//go:embed clearance_rules.json
var ClearanceRules string
