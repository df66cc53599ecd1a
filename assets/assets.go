package assets

import _ "embed"

// LayoutSchema is the layout file as JSON Schema 2020-12. Read-only.
//
//go:embed layout.schema.json
var LayoutSchema string
