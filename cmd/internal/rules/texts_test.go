package rules_test

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"aftbay/cmd/internal/rules"
)

// update rewrites the list of the window's texts. Read-only.
var update = flag.Bool("update", false, "rewrite "+rules.TextsFile)

func TestEveryTextIsInTheCatalogue(t *testing.T) {
	if *update {
		writeTexts(t)
	}
	check(t, rules.Texts)
}

// writeTexts lists every text of the window.
func writeTexts(t *testing.T) {
	m, err := house()
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	for _, text := range rules.Spoken(m) {
		texts[text] = text
	}
	var data bytes.Buffer
	to := json.NewEncoder(&data)
	to.SetEscapeHTML(false)
	to.SetIndent("", "\t")
	if err := to.Encode(texts); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile("../../../"+rules.TextsFile, data.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func TestTextsRuleFinds(t *testing.T) {
	const source = `package page

import "aftbay/gui/phrase"

func show(name string) []string {
	return []string{
		phrase.Of("Known text"), phrase.Of("Known " + "text"), phrase.Of("Unknown text"), phrase.Of(name),
		phrase.F("%s of %d", name), "A bare text", "key", "parts.name", heading("head"), heading(phrase.Of("Known text")), heading("-"),
	}
}
`
	m, err := rules.Load(fstest.MapFS{
		"gui/page/show.go": {Data: []byte(source)},
		rules.TextsFile:    {Data: []byte(`{"Known text": "", "Stale text": ""}`)},
	})
	if err != nil {
		t.Fatal(err)
	}
	found, err := rules.Texts(m)
	if err != nil {
		t.Fatal(err)
	}
	var said []string
	for _, f := range found {
		said = append(said, f.String())
	}
	all := strings.Join(said, "\n")
	for _, want := range []string{"Unknown text", "while it runs", "%s of %d", "A bare text", "Stale text", `"head"`} {
		if !strings.Contains(all, want) {
			t.Errorf("nothing found about %q in:\n%s", want, all)
		}
	}
	if len(found) != 6 {
		t.Errorf("%d findings, want 6:\n%s", len(found), all)
	}
}
