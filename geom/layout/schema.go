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
			told[p.path+" "+p.mend.String()] = true
		}
	}
	return func(p placed) bool {
		return p.lacks != "" && told[p.path+" "+meant(p.lacks).String()]
	}
}

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
				what: say.F("unknown key %q", clip(key)), mend: suggest(key, known, say.Of("known here:")),
			})
		}
	case *kind.Required:
		for _, key := range k.Missing {
			list = append(list, placed{path: path, lacks: key, what: say.F("missing key %q", key), mend: say.Of("add it")})
		}
	default:
		what, mend := inWords(e.ErrorKind)
		list = append(list, placed{path: path, what: what, mend: mend})
	}
	return list
}

// inWords says what a schema error means to the person who wrote the file.
func inWords(e jsonschema.ErrorKind) (what, mend say.Text) {
	switch k := e.(type) {
	case *kind.Type:
		want := slices.DeleteFunc(slices.Clone(k.Want), func(w string) bool { return w == "null" })
		words := kindWord(want[0])
		for _, w := range want[1:] {
			words = say.F("%s or %s", words, kindWord(w))
		}
		return say.F("%s stands where %s is wanted", kindWord(k.Got), words), say.Of("change the value")
	case *kind.Minimum:
		return say.Of("the value is too small"), say.F("the least is %s", bound(k.Want))
	case *kind.Maximum:
		return say.Of("the value is too large"), say.F("the most is %s", bound(k.Want))
	case *kind.ExclusiveMinimum:
		return say.Of("the value is too small"), say.F("it must be more than %s", bound(k.Want))
	case *kind.MinItems:
		return say.F("%d values in the list", k.Got), say.F("at least %d are wanted", k.Want)
	case *kind.MaxItems:
		return say.F("%d values in the list", k.Got), say.F("at most %d are wanted", k.Want)
	case *kind.MinLength:
		return say.Of("the text is empty"), say.Of("write something")
	case *kind.MaxLength:
		return say.F("the text has %d letters", k.Got), say.F("at most %d are allowed", k.Want)
	case *kind.Enum:
		return say.F("%s isn't one of the allowed values", shown(k.Got)), say.F("write %s", choices(k.Want))
	case *kind.Const:
		return say.F("%s isn't the allowed value", shown(k.Got)), say.F("write %s", shown(k.Want))
	case *kind.Pattern:
		return say.F("%q has the wrong form", clip(k.Got)), patternMend(k.Want)
	}
	return say.Of("the value breaks the schema"), say.Of("see the layout schema")
}

// patternMend says what a pattern of the schema asks for.
func patternMend(pattern string) say.Text {
	switch {
	case strings.Contains(pattern, "role|part|group"):
		return say.Of("write role:WORD, part:NAME, group:NAME or *")
	case strings.Contains(pattern, "[0-9]{4}"):
		return say.Of("write the date as 2027-01-31")
	}
	return say.Of("leave out spaces at the ends, line breaks and control characters")
}

// kindWord is a JSON type as a reader calls it.
func kindWord(jsonType string) say.Text {
	switch jsonType {
	case "object":
		return say.Of("an object {…}")
	case "array":
		return say.Of("a list […]")
	case "string":
		return say.Of("text")
	case "boolean":
		return say.Of("true or false")
	case "integer":
		return say.Of("a whole number")
	case "number":
		return say.Of("a number")
	case "null":
		return say.Of("null")
	}
	return say.Name(jsonType)
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
