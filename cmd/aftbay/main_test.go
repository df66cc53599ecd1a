package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		args []string
		want call
		ok   bool
	}{
		{nil, call{variant: "bramble-b"}, true},
		{[]string{"--demo"}, call{demo: true, variant: "bramble-b"}, true},
		{[]string{"--demo", "--variant", "bramble-a", "--look=review"}, call{demo: true, variant: "bramble-a", look: "review"}, true},
		{[]string{"car", "--look", "dark"}, call{layout: "car", variant: "bramble-b", look: "dark"}, true},
		{[]string{"--look", "dark", "car.aftbay"}, call{layout: "car.aftbay", variant: "bramble-b", look: "dark"}, true},
		{[]string{"car", "--demo"}, call{}, false},
		{[]string{"car", "van"}, call{}, false},
		{[]string{"--look", "loud"}, call{}, false},
		{[]string{"--demo", "--variant", "bramble-z"}, call{}, false},
		{[]string{"--unknown"}, call{}, false},
		{[]string{"--demo", "--vitals", "v", "--profiles"}, call{demo: true, variant: "bramble-b", vitals: "v", profile: true}, true},
		{[]string{"--demo", "--profiles"}, call{}, false},
	} {
		got, err := parse(c.args, io.Discard)
		if (err == nil) != c.ok || c.ok && got != c.want {
			t.Errorf("%q: %+v, %v; want %+v, ok %v", c.args, got, err, c.want, c.ok)
		}
	}
}

func TestSpeakNamesALanguage(t *testing.T) {
	for _, name := range []string{"LC_ALL", "LC_MESSAGES", "LANG"} {
		t.Setenv(name, "C.UTF-8")
	}
	if err := speak(); err != nil || os.Getenv("LANG") != "en_US.UTF-8" || os.Getenv("LC_ALL") != "" {
		t.Errorf("LANG %q, LC_ALL %q, %v", os.Getenv("LANG"), os.Getenv("LC_ALL"), err)
	}
	t.Setenv("LANG", "de_DE.UTF-8")
	if err := speak(); err != nil || os.Getenv("LANG") != "de_DE.UTF-8" {
		t.Errorf("a known language was replaced by %q, %v", os.Getenv("LANG"), err)
	}
}

func TestWriteDemo(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	path, err := writeDemo("bramble-a")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(path, "layout.json")); err != nil {
		t.Error(err)
	}
}

// TestPreferencesAreReadable: the toolkit makes its file empty and cannot read
// it then; before the first start and after such a one it gets a content.
func TestPreferencesAreReadable(t *testing.T) {
	home := t.TempDir()
	t.Setenv("HOME", home)
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(home, ".config"))
	dir, err := os.UserConfigDir()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "fyne", appID, "preferences.json")
	for _, c := range []struct{ before, want string }{{"absent", "{}"}, {"", "{}"}, {`{"a":1}`, `{"a":1}`}} {
		if c.before != "absent" {
			if err := os.WriteFile(path, []byte(c.before), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if err := fillPreferences(); err != nil {
			t.Fatal(err)
		}
		if got, err := os.ReadFile(path); err != nil || string(got) != c.want {
			t.Errorf("from %q: %q, %v; want %q", c.before, got, err, c.want)
		}
	}
}
