package phrase

import (
	"embed"
	"encoding/json"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// texts are the languages. Read-only.
//
//go:embed texts/*.json
var texts embed.FS

// Long is the made-up language of longer texts.
const Long = "long"

// Catalogue holds the texts of one language. Its zero value is English.
type Catalogue struct {
	language string
	of       map[string]string // from English
}

// Language returns the language that an environment asks for, "en" without
// any: AFTBAY_LANGUAGE, or the first of LC_ALL, LC_MESSAGES and LANG that is
// set, up to its country and encoding.
func Language(env func(string) string) string {
	for _, name := range []string{"AFTBAY_LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"} {
		value := env(name)
		if value == "" {
			continue
		}
		if end := strings.IndexAny(value, "_.@"); end >= 0 {
			value = value[:end]
		}
		if value == "C" || value == "POSIX" {
			return "en"
		}
		return strings.ToLower(value)
	}
	return "en"
}

// For returns the catalogue of a language; English where there is none.
func For(language string) Catalogue {
	if language == Long {
		return Catalogue{language: Long}
	}
	if strings.ContainsAny(language, "/\\") {
		return Catalogue{}
	}
	data, err := texts.ReadFile("texts/" + language + ".json")
	if err != nil {
		return Catalogue{}
	}
	c, err := Read(language, data)
	if err != nil {
		return Catalogue{} // the tests read every language
	}
	return c
}

// Read returns the catalogue of a language file. A translation whose verbs
// differ from those of the English text is left out and named in the error; the
// catalogue is good without it.
func Read(language string, data []byte) (Catalogue, error) {
	c := Catalogue{language: language}
	var given map[string]string
	if err := json.Unmarshal(data, &given); err != nil {
		return c, fmt.Errorf("language %s: %w", language, err)
	}
	c.of = make(map[string]string, len(given))
	var wrong []string
	for english, text := range given {
		switch {
		case text == "":
		case !slices.Equal(Verbs(english), Verbs(text)):
			wrong = append(wrong, english)
		default:
			c.of[english] = text
		}
	}
	if len(wrong) > 0 {
		slices.Sort(wrong)
		return c, fmt.Errorf("language %s: verbs differ from the English text in %q: give each the same verbs, with %%[n] where their order changes", language, wrong)
	}
	return c, nil
}

// Of returns a text in the catalogue's language.
func (c Catalogue) Of(english string) string {
	if c.language == Long {
		return stretched(english)
	}
	if text, ok := c.of[english]; ok {
		return text
	}
	return english
}

// word returns a word of files in the catalogue's language, one that is the
// user's own as it is.
func (c Catalogue) word(english string) string {
	if !known()[english] {
		return english
	}
	return c.Of(english)
}

// known are all texts there are, by their English words. Read-only.
var known = sync.OnceValue(func() map[string]bool {
	data, err := texts.ReadFile("texts/en.json")
	if err != nil {
		return nil // the tests read it
	}
	var listed map[string]string
	_ = json.Unmarshal(data, &listed)
	out := make(map[string]bool, len(listed))
	for english := range listed {
		out[english] = true
	}
	return out
})

// stretched returns a text between brackets and a third longer; the blanks
// around it stay outside, so that joined texts still join.
func stretched(text string) string {
	core := strings.TrimSpace(text)
	if core == "" {
		return text
	}
	at := strings.Index(text, core)
	return text[:at] + "[" + core + strings.Repeat("~", (utf8.RuneCountInString(core)+2)/3) + "]" + text[at+len(core):]
}

// verb is one verb of fmt with flags, argument index, width and precision.
// Read-only.
var verb = regexp.MustCompile(`%[-+# 0]*(\[(\d+)\])?(\*|\d+)?(\.(\*|\d+)?)?(\[(\d+)\])?([a-zA-Z%])`)

// Verbs returns the verbs of a format in the order of their arguments, each
// with its number, so that a translation may change their order. "%%" is none.
func Verbs(format string) []string {
	var out []string
	next := 1
	for _, m := range verb.FindAllStringSubmatch(format, -1) {
		if m[8] == "%" {
			continue
		}
		index := next
		for _, group := range []string{m[2], m[7]} {
			if group != "" {
				_, _ = fmt.Sscan(group, &index) // digits by the expression
			}
		}
		stars := strings.Count(m[0], "*")
		next = index + 1 + stars
		out = append(out, fmt.Sprintf("%03d%s", index+stars, m[8]))
	}
	slices.Sort(out)
	return slices.Compact(out)
}
