package say_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"testing"

	"aftbay/geom/say"
)

// german is a catalogue for the tests.
func german(english string) string {
	if text, ok := map[string]string{
		"%s comes within %s of %s":  "%[1]s nähert sich %[3]s bis auf %[2]s",
		"cold":                      "kalt",
		"Stops at %s: %s":           "Halt bei %s: %s",
		"part %q: %w":               "Teil %q: %w",
		"no facets":                 "keine Dreiecke",
		"no such file or directory": "Datei fehlt",
		"100 % of it":               "100 % davon",
		"%d %% of %s":               "%d %% von %s",
	}[english]; ok {
		return text
	}
	return english
}

func TestTextsAreToldInBothLanguages(t *testing.T) {
	near := say.F("%s comes within %s of %s", say.Name("sump"), "10.0 mm", "deck")
	for _, c := range []struct {
		text            say.Text
		english, german string
	}{
		{say.Text{}, "", ""},
		{say.Of("cold"), "cold", "kalt"},
		{say.Of("100 % of it"), "100 % of it", "100 % davon"},
		{say.F("%d %% of %s", 5, say.Of("cold")), "5 % of cold", "5 % von kalt"},
		{near, "sump comes within 10.0 mm of deck", "sump nähert sich deck bis auf 10.0 mm"},
		{say.F("Stops at %s: %s", "3.00 mm", near), "Stops at 3.00 mm: sump comes within 10.0 mm of deck", "Halt bei 3.00 mm: sump nähert sich deck bis auf 10.0 mm"},
		{say.Join([]say.Text{say.Of("cold"), say.Of("cold")}, " %, "), "cold %, cold", "kalt %, kalt"},
		{say.Join(nil, ", "), "", ""},
		{say.Of("cold").And(say.Name(" cold")), "cold cold", "kalt cold"},
		{say.F("%q", say.Of("cold")), `"cold"`, `"kalt"`},
		{say.Name("cold"), "cold", "cold"},
		{say.Name("50 %d"), "50 %d", "50 %d"},
	} {
		if got := c.text.String(); got != c.english {
			t.Errorf("English %q, want %q", got, c.english)
		}
		if got := c.text.In(german); got != c.german {
			t.Errorf("German %q, want %q", got, c.german)
		}
	}
}

// TestFormatsOfSignsAreNotLookedUp: what only joins is the same in all languages.
func TestFormatsOfSignsAreNotLookedUp(t *testing.T) {
	for format, asked := range map[string]bool{"%s: %s": false, "%-2[2]s – %[1]s %%": false, "%s %s ok": true, "%s°, %s µ": true} {
		var got bool
		say.F(format, "a", "b").In(func(english string) string {
			got = true
			return english
		})
		if got != asked {
			t.Errorf("%q: looked up %t, want %t", format, got, asked)
		}
	}
}

func TestErrorsAreToldInBothLanguages(t *testing.T) {
	empty := say.New("no facets")
	wrapped := say.Errorf("part %q: %w", "cold", empty)
	_, missing := os.Open("/nowhere/at/all")
	for _, c := range []struct {
		err             error
		english, german string
	}{
		{empty, "no facets", "keine Dreiecke"},
		{wrapped, `part "cold": no facets`, `Teil "cold": keine Dreiecke`},
		{errors.Join(empty, wrapped), "no facets\npart \"cold\": no facets", "keine Dreiecke\nTeil \"cold\": keine Dreiecke"},
		{say.Errorf("part %q: %w", "x", missing), `part "x": open /nowhere/at/all: no such file or directory`, `Teil "x": open /nowhere/at/all: Datei fehlt`},
		{fmt.Errorf("two: %w, %w", empty, wrapped), `two: no facets, part "cold": no facets`, `two: no facets, part "cold": no facets`},
		{errors.New("other"), "other", "other"},
		{nil, "", ""},
	} {
		if c.err != nil && c.err.Error() != c.english {
			t.Errorf("English %q, want %q", c.err, c.english)
		}
		if got := say.Err(c.err, german); got != c.german {
			t.Errorf("German %q, want %q", got, c.german)
		}
	}
	if !errors.Is(wrapped, empty) || errors.Is(empty, wrapped) || !errors.Is(say.Errorf("part %q: %w", "x", missing), fs.ErrNotExist) {
		t.Error("the errors do not wrap as those of fmt do")
	}
	if got := say.Words(wrapped).In(german); got != `Teil "cold": keine Dreiecke` {
		t.Errorf("the words of an error became %q", got)
	}
}

func TestFilesHoldEnglish(t *testing.T) {
	data, err := json.Marshal(struct {
		Text, None say.Text
		More       []say.Text
		Left       say.Text `json:",omitzero"`
	}{Text: say.F("Stops at %s: %s", "3 mm", say.Of("cold")), More: []say.Text{say.Of("cold")}})
	if want := `{"Text":"Stops at 3 mm: cold","None":"","More":["cold"]}`; err != nil || string(data) != want {
		t.Errorf("%s, %v; want %s", data, err, want)
	}
}

func ExampleText() {
	text := say.F("%s of the road is seen", "98.20 %")
	fmt.Println(text)
	fmt.Println(text.In(func(english string) string { return "von der Straße sieht man %s" }))
	// Output:
	// 98.20 % of the road is seen
	// von der Straße sieht man 98.20 %
}
