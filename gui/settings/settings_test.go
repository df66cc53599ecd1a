package settings

import (
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/disk"
	"aftbay/geom/disk/faulty"
)

func TestWhatIsKeptComesBack(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "aftbay")
	if s, err := Load(dir); err != nil || s.WidthPx != 0 {
		t.Fatalf("a first start: %+v, %v", s, err)
	}
	drawer := Share(0.25)
	err := Change(dir, func(s *Settings) {
		s.WidthPx, s.HeightPx, s.Look, s.Drawer = 1280, 800, "dark", &drawer
		for i := range 12 {
			s.Opened(fmt.Sprintf("/cars/%d", i))
		}
		s.Opened("/cars/5")
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	if s.WidthPx != 1280 || s.HeightPx != 800 || s.Look != "dark" || s.Drawer == nil || *s.Drawer != drawer || s.LastFolder != "/cars" {
		t.Errorf("%+v", s)
	}
	if want := strings.Fields("/cars/5 /cars/11 /cars/10 /cars/9 /cars/8 /cars/7 /cars/6 /cars/4 /cars/3 /cars/2"); !reflect.DeepEqual(s.Recent, want) {
		t.Errorf("recent %v", s.Recent)
	}
}

func TestADamagedFileNeverStopsTheStart(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		says string
		want Settings
	}{
		"empty":             {"", "damaged", Settings{}},
		"torn":              {`{"look": "dar`, "damaged", Settings{}},
		"a list":            {`[1]`, "damaged", Settings{}},
		"binary":            {"\x00\xff\x00", "damaged", Settings{}},
		"one wrong value":   {`{"look": 7, "last_folder": "/cars"}`, "look", Settings{LastFolder: "/cars"}},
		"absurd sizes":      {`{"window_width": 1000000, "window_height": -4}`, "", Settings{}},
		"absurd shares":     {`{"drawer_share": 7, "scene_share": 0}`, "", Settings{}},
		"an unknown key":    {`{"look": "dark", "later": {"a": 1}}`, "", Settings{Look: "dark"}},
		"a number too long": {`{"window_width": 1e99}`, "window_width", Settings{}},
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, FileName), []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		s, err := Load(dir)
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: error %v, want %q", name, err, c.says)
		}
		s.others = nil
		if !reflect.DeepEqual(s, c.want) {
			t.Errorf("%s: %+v", name, s)
		}
		if err := Change(dir, func(s *Settings) { s.Look = "light" }); err != nil {
			t.Errorf("%s: can't be written again: %v", name, err)
		}
		if s, err := Load(dir); err != nil || s.Look != "light" {
			t.Errorf("%s: then %+v, %v", name, s, err)
		}
		data, err := os.ReadFile(filepath.Join(dir, FileName))
		if err != nil || name == "an unknown key" && !strings.Contains(string(data), `"later"`) {
			t.Errorf("%s: now %s, %v", name, data, err)
		}
	}
}

// TestEveryFailureLeavesAWholeFile walks through every step of writing.
func TestEveryFailureLeavesAWholeFile(t *testing.T) {
	for _, kind := range faulty.Kinds() {
		for at := 1; ; at++ {
			dir := t.TempDir()
			if err := Change(dir, func(s *Settings) { s.Look = "dark" }); err != nil {
				t.Fatal(err)
			}
			root, err := disk.At(dir)
			if err != nil {
				t.Fatal(err)
			}
			d := faulty.New(root, at, kind)
			s := Settings{Look: "review"}
			_ = s.write(d) // what counts is what then stands there
			if err := root.Close(); err != nil {
				t.Fatal(err)
			}
			if now, err := Load(dir); err != nil || now.Look != "dark" && now.Look != "review" {
				t.Errorf("%v at %d: %+v, %v", kind, at, now, err)
			}
			if !d.Failed() {
				break
			}
		}
	}
}

// How a layout was looked at comes back; what no window can show does not.
func TestViewsComeBack(t *testing.T) {
	dir := t.TempDir()
	view := View{
		Layout: "/cars/1", Page: 3, Hidden: []string{"lid"}, SeeThrough: []string{"tray"}, Mirror: true,
		Camera: &Camera{TargetMM: geom.Vec{1700, 0, 400}, AzimuthDeg: 40, ElevationDeg: 28, DistMM: 3000, Parallel: true},
		Cuts:   []Cut{{Name: "A", PointMM: geom.Vec{1700, 0, 0}, Normal: geom.Vec{1, 0, 0}, ZeroMM: 1700, Grid: true}},
	}
	err := Change(dir, func(s *Settings) {
		s.Looked(View{Layout: "/cars/1"})
		for i := range mostViews {
			s.Looked(View{Layout: fmt.Sprintf("/cars/%d", i)})
		}
		s.Looked(view)
	})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Load(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got, ok := s.ViewOf("/cars/1"); !ok || !reflect.DeepEqual(got, view) || len(s.Views) != mostViews {
		t.Errorf("%+v, %d views", got, len(s.Views))
	}
	if _, ok := s.ViewOf("/cars/none"); ok {
		t.Error("a view of a layout that was never looked at")
	}
	const bad = `{"views": [{"layout": ""}, {"layout": "/a", "camera": {"target_mm": [1e9, 0, 0], "dist_mm": 5}, "cuts": [
		{"name": "A", "point_mm": [0, 0, 0], "normal": [0, 0, 0]}, {"name": "B", "point_mm": [0, 0, 0], "normal": [0, 1, 0]}]}]}`
	if err := os.WriteFile(filepath.Join(dir, FileName), []byte(bad), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err = Load(dir)
	if got, ok := s.ViewOf("/a"); err != nil || !ok || got.Camera != nil || len(got.Cuts) != 1 || len(s.Views) != 1 {
		t.Errorf("%+v, %v", s.Views, err)
	}
}
