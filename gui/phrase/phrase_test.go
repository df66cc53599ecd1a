package phrase_test

import (
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"
	"testing"

	"aftbay/gui/phrase"
)

func TestLanguageOfTheEnvironment(t *testing.T) {
	for _, c := range []struct {
		env  map[string]string
		want string
	}{
		{nil, "en"},
		{map[string]string{"LANG": "de_DE.UTF-8"}, "de"},
		{map[string]string{"LANG": "C.UTF-8"}, "en"},
		{map[string]string{"LANG": "POSIX"}, "en"},
		// POSIX.1-2017, 8.2: LC_ALL goes before LC_MESSAGES, that before LANG.
		{map[string]string{"LANG": "de_DE", "LC_MESSAGES": "fr@euro", "LC_ALL": "sv"}, "sv"},
		{map[string]string{"LANG": "de_DE", "LC_MESSAGES": "fr@euro"}, "fr"},
		{map[string]string{"LANG": "de_DE", "AFTBAY_LANGUAGE": "long"}, "long"},
	} {
		if got := phrase.Language(func(name string) string { return c.env[name] }); got != c.want {
			t.Errorf("%v: language %q, want %q", c.env, got, c.want)
		}
	}
}

func TestTranslation(t *testing.T) {
	c, err := phrase.Read("xx", []byte(`{"%d of %s": "%[2]s: %[1]d", "Undo": "Zurück", "%d fit": "%s passen", "Redo": ""}`))
	if err == nil || !strings.Contains(err.Error(), `"%d fit"`) || strings.Contains(err.Error(), "Undo") {
		t.Errorf("other verbs: %v", err)
	}
	for english, want := range map[string]string{"Undo": "Zurück", "Redo": "Redo", "unknown": "unknown", "%d fit": "%d fit"} {
		if got := c.Of(english); got != want {
			t.Errorf("%q became %q, want %q", english, got, want)
		}
	}
	if got := fmt.Sprintf(c.Of("%d of %s"), 3, "gaps"); got != "gaps: 3" {
		t.Errorf("arguments in another order: %q", got)
	}
	if _, err := phrase.Read("xx", []byte(`[]`)); err == nil {
		t.Error("a list was read as a language")
	}
}

func TestUnknownLanguageIsEnglish(t *testing.T) {
	for _, language := range []string{"", "zz", "../phrase", "en"} {
		if got := phrase.For(language).Of("Does it fit?"); got != "Does it fit?" {
			t.Errorf("%q says %q", language, got)
		}
	}
}

func TestLongLanguageKeepsVerbsAndBlanks(t *testing.T) {
	c := phrase.For(phrase.Long)
	for english, want := range map[string]string{"Undo": "[Undo~~]", " by %d mm, ": " [by %d mm,~~~] ", "  ": "  ", "": ""} {
		if got := c.Of(english); got != want {
			t.Errorf("%q became %q, want %q", english, got, want)
		}
	}
}

func TestVerbs(t *testing.T) {
	for format, want := range map[string][]string{
		"plain":              nil,
		"100 %% of %s":       {"001s"},
		"%+.1f°, %-5d":       {"001f", "002d"},
		"%[2]s then %[1]d":   {"001d", "002s"},
		"%*d wide, %.*f":     {"002d", "004f"},
		"%[1]s and %[1]s":    {"001s"},
		"%v of %d %% and %s": {"001v", "002d", "003s"},
	} {
		if got := phrase.Verbs(format); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", format, got, want)
		}
	}
}

// TestEveryLanguageReads: whatever lies in texts is whole.
func TestEveryLanguageReads(t *testing.T) {
	files, err := fs.Glob(os.DirFS("."), "texts/*.json")
	if err != nil || len(files) == 0 {
		t.Fatalf("no languages: %v", err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := phrase.Read(strings.TrimSuffix(file[len("texts/"):], ".json"), data); err != nil {
			t.Error(err)
		}
	}
}

// TestOtherProgramsStayEnglish: what is not the window answers alike wherever it
// runs.
func TestOtherProgramsStayEnglish(t *testing.T) {
	t.Setenv("AFTBAY_LANGUAGE", phrase.Long)
	if got := phrase.Of("Undo") + phrase.F(" %d mm", 3); got != "Undo 3 mm" {
		t.Errorf("a test says %q", got)
	}
}
