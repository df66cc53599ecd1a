package layout

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/santhosh-tekuri/jsonschema/v6/kind"

	"aftbay/assets"
	"aftbay/geom/say"
)

// compiled is the schema of the layout file, made on first use. Read-only.
var compiled = sync.OnceValues(func() (*jsonschema.Schema, error) {
	const url = "urn:aftbay:layout:1"
	doc, err := jsonschema.UnmarshalJSON(strings.NewReader(assets.LayoutSchema))
	if err != nil {
		return nil, err
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(url, doc); err != nil {
		return nil, err
	}
	return c.Compile(url)
})

// schemaFaults returns everything in which the tree breaks the schema, up to
// maxFaults. A large tree is held against it in pieces: a fault takes a hundred
// times the memory of the value that it is about.
func schemaFaults(t *tree) ([]placed, error) {
	schema, err := compiled()
	if err != nil {
		return nil, say.Errorf("layout schema: %w", err)
	}
	root, isObject := t.root.(map[string]any)
	if t.values <= pieceValues || !isObject {
		return brokenIn(schema, t.root)
	}
	var list []placed
	for _, p := range pieces(root) {
		broken, err := brokenIn(schema, p.root)
		if err != nil {
			return nil, err
		}
		for _, b := range broken {
			if at, inside := p.place(b.path); inside {
				b.path = at
				list = append(list, b)
			}
		}
		if len(list) >= maxFaults {
			break
		}
	}
	return list, nil
}

// brokenIn returns everything in which one value breaks the schema.
func brokenIn(schema *jsonschema.Schema, root any) ([]placed, error) {
	var broken *jsonschema.ValidationError
	if err := schema.Validate(root); err == nil {
		return nil, nil
	} else if !errors.As(err, &broken) {
		return nil, say.Errorf("layout schema: %w", err)
	}
	list := leaves(broken, nil)
	return slices.DeleteFunc(list, misspelt(list)), nil
}

// misspelt returns a test for faults of missing keys that another fault has
// already explained as misspelt.
func misspelt(all []placed) func(placed) bool {
	told := map[string]bool{} // path of the object and its missing key
	for _, p := range all {
		if p.key != "" {
			told[p.path+" "+p.mend] = true
		}
	}
	return func(p placed) bool {
		key, missing := strings.CutPrefix(p.what, missingKey)
		return missing && told[p.path+" did you mean "+key+"?"]
	}
}

// missingKey begins the fault of a required key that isn't there.
const missingKey = "missing key "

// leaves appends the faults at the ends of a tree of schema errors.
func leaves(e *jsonschema.ValidationError, list []placed) []placed {
	for _, cause := range e.Causes {
		list = leaves(cause, list)
	}
	if len(e.Causes) > 0 {
		return list
	}
	path := ""
	for _, step := range e.InstanceLocation {
		path += "/" + step
	}
	switch k := e.ErrorKind.(type) {
	case *kind.AdditionalProperties:
		known := keysAt(e.InstanceLocation)
		for _, key := range slices.Sorted(slices.Values(k.Properties)) {
			list = append(list, placed{
				path: path, key: key,
				what: fmt.Sprintf("unknown key %q", clip(key)), mend: suggest(key, known, "known here:"),
			})
		}
	case *kind.Required:
		for _, key := range k.Missing {
			list = append(list, placed{path: path, what: missingKey + strconv.Quote(key), mend: "add it"})
		}
	default:
		what, mend := inWords(e.ErrorKind)
		list = append(list, placed{path: path, what: what, mend: mend})
	}
	return list
}

// inWords says what a schema error means to the person who wrote the file.
func inWords(e jsonschema.ErrorKind) (what, mend string) {
	switch k := e.(type) {
	case *kind.Type:
		want := slices.DeleteFunc(slices.Clone(k.Want), func(w string) bool { return w == "null" })
		for i, w := range want {
			want[i] = kindWord(w)
		}
		return fmt.Sprintf("%s stands where %s is wanted", kindWord(k.Got), strings.Join(want, " or ")), "change the value"
	case *kind.Minimum:
		return "the value is too small", "the least is " + bound(k.Want)
	case *kind.Maximum:
		return "the value is too large", "the most is " + bound(k.Want)
	case *kind.ExclusiveMinimum:
		return "the value is too small", "it must be more than " + bound(k.Want)
	case *kind.MinItems:
		return fmt.Sprintf("%d values in the list", k.Got), fmt.Sprintf("at least %d are wanted", k.Want)
	case *kind.MaxItems:
		return fmt.Sprintf("%d values in the list", k.Got), fmt.Sprintf("at most %d are wanted", k.Want)
	case *kind.MinLength:
		return "the text is empty", "write something"
	case *kind.MaxLength:
		return fmt.Sprintf("the text has %d letters", k.Got), fmt.Sprintf("at most %d are allowed", k.Want)
	case *kind.Enum:
		return fmt.Sprintf("%s isn't one of the allowed values", shown(k.Got)), "write " + choices(k.Want)
	case *kind.Const:
		return fmt.Sprintf("%s isn't the allowed value", shown(k.Got)), "write " + shown(k.Want)
	case *kind.Pattern:
		return fmt.Sprintf("%q has the wrong form", clip(k.Got)), patternMend(k.Want)
	}
	return "the value breaks the schema", "see the layout schema"
}

// patternMend says what a pattern of the schema asks for.
func patternMend(pattern string) string {
	switch {
	case strings.Contains(pattern, "role|part|group"):
		return "write role:WORD, part:NAME, group:NAME or *"
	case strings.Contains(pattern, "[0-9]{4}"):
		return "write the date as 2027-01-31"
	}
	return "leave out spaces at the ends, line breaks and control characters"
}

// kindWord is a JSON type as a reader calls it.
func kindWord(jsonType string) string {
	switch jsonType {
	case "object":
		return "an object {…}"
	case "array":
		return "a list […]"
	case "string":
		return "text"
	case "boolean":
		return "true or false"
	case "integer":
		return "a whole number"
	case "number":
		return "a number"
	case "null":
		return "null"
	}
	return jsonType
}

// bound writes a limit of the schema the short way.
func bound(r *big.Rat) string {
	nearest, _ := r.Float64()
	return strconv.FormatFloat(nearest, 'g', -1, 64)
}

func shown(v any) string {
	if text, ok := v.(string); ok {
		return strconv.Quote(clip(text))
	}
	return clip(fmt.Sprint(v))
}

func choices(list []any) string {
	var words []string
	for _, v := range list {
		if v != nil {
			words = append(words, shown(v))
		}
	}
	return strings.Join(words, ", ")
}
