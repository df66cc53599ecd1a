package demo

import (
	"bytes"
	"context"
	"io/fs"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"aftbay/geom/clearance"
	"aftbay/geom/dist"
	"aftbay/geom/drop"
	"aftbay/geom/layout"
	"aftbay/geom/scene"
	"aftbay/thermal/balance"
)

// stage writes a variant and loads it as anyone would.
func stage(t testing.TB, v Variant) *scene.Scene {
	t.Helper()
	dir := t.TempDir()
	if err := Write(dir, v); err != nil {
		t.Fatal(err)
	}
	doc, folder, err := layout.Open(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer folder.Close()
	s, err := scene.Build(context.Background(), doc, folder, nil, scene.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The findings are the story that the package comment tells: these and no
// others, so that no part overlaps another by accident.
func TestFindings(t *testing.T) {
	t.Parallel()
	want := map[Variant][]string{
		BrambleA: {
			"overlap deck lid ~ sight line @ static",
			"short oil tank ~ deck lid @ static",
		},
		BrambleB: {
			"overlap oil hose feed ~ subframe side left @ static",
			"short plenum ~ deck lid @ all together",
			"short plenum ~ deck lid @ moving",
			"short plenum ~ deck lid @ static",
			"short primary 5 ~ coil 5 @ hot",
		},
	}
	for _, v := range Variants() {
		r, err := clearance.Run(context.Background(), stage(t, v), clearance.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for i := range r.Pairs {
			if p := &r.Pairs[i]; clearance.Fails(p.Verdict) {
				got = append(got, p.Verdict+" "+p.ID)
			}
		}
		slices.Sort(got)
		if !slices.Equal(got, want[v]) {
			t.Errorf("%s: got\n  %s\nwant\n  %s", v, strings.Join(got, "\n  "), strings.Join(want[v], "\n  "))
		}
	}
}

// A joined pair is not checked, so each must really meet: within 1 mm, or
// within 30 mm where a hose or line ends; primaries are welded to each other at
// the collector.
func TestJoinedPartsMeet(t *testing.T) {
	for _, v := range Variants() {
		s := stage(t, v)
		for _, pair := range s.Doc.Joined {
			a, okA := s.Index(pair[0])
			b, okB := s.Index(pair[1])
			if !okA || !okB {
				t.Fatalf("%s: joined %v: no such part", v, pair)
			}
			r, err := dist.Between(context.Background(), s.Body(a), s.Body(b), dist.Options{})
			if err != nil {
				t.Fatal(err)
			}
			leastMM := 1.0
			switch {
			case strings.Contains(pair[0], "hose") || strings.Contains(pair[0], "line"):
				leastMM = 30
			case strings.HasPrefix(pair[0], "primary") && strings.HasPrefix(pair[1], "primary"):
				leastMM = 6
			}
			if !r.Overlap && r.GapMM > leastMM {
				t.Errorf("%s: %v are joined but %.1f mm apart", v, pair, r.GapMM)
			}
		}
	}
}

// The later layout drops farther, ends at a half-shaft and needs the drop for
// the lid; the earlier one ends at its deep sump.
func TestDrop(t *testing.T) {
	t.Parallel()
	cases := []struct {
		v                  Variant
		lowMM, highMM      float64
		lowName, highParts string
	}{
		{BrambleA, 0, 17, "", "sump to undertray"},
		{BrambleB, 9.5, 28.5, "plenum to deck lid", "half-shaft left, joint angle at full bump"},
	}
	for _, c := range cases {
		s := stage(t, c.v)
		s.Doc.Drop.RangeMM = layout.Range{0, 40} // beyond both ends, and quicker
		d, err := drop.Run(context.Background(), s, drop.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if d.WindowMM == nil {
			t.Errorf("%s: no window; %v", c.v, d.Limits[0])
			continue
		}
		// Half a millimetre: the story, not the kernel, is checked here.
		if low, high := d.WindowMM[0]-c.lowMM, d.WindowMM[1]-c.highMM; low < -0.5 || low > 0.5 || high < -0.5 || high > 0.5 {
			t.Errorf("%s: window %v, want about [%g, %g]", c.v, *d.WindowMM, c.lowMM, c.highMM)
		}
		if d.Binding.High == nil || !strings.HasPrefix(d.Binding.High.Limit.String(), c.highParts) {
			t.Errorf("%s: ends at %+v, want %q", c.v, d.Binding.High, c.highParts)
		}
		if (d.Binding.Low == nil) != (c.lowName == "") || d.Binding.Low != nil && !strings.HasPrefix(d.Binding.Low.Limit.String(), c.lowName) {
			t.Errorf("%s: begins at %+v, want %q", c.v, d.Binding.Low, c.lowName)
		}
	}
}

// With the exhaust up, coil 5 and what lies over the exhaust are over their limits
// in both standing cases, coil 5 at the nominal figure and after key-off too; with
// the exhaust down nothing is. A part over its limit is so by more than few rays
// can tell (storyK), and so is what is not.
func TestHot(t *testing.T) {
	t.Parallel()
	const storyK = 2.5
	hot := map[Variant][]string{BrambleB: {"air filter", "coil 5", "deck lid", "plenum"}}
	for _, v := range Variants() {
		s := stage(t, v)
		s.Doc.Heat.Rays = new(256) // enough for the story
		r, err := balance.Run(context.Background(), s, balance.Options{}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range r.Cases {
			for _, p := range c.Parts {
				if p.LimitDegC == nil {
					continue
				}
				want := slices.Contains(hot[v], p.Name) && (c.After == "" || p.Name == "coil 5")
				if over := p.Verdict == balance.Over; over != want || math.Abs(*p.HighMarginK) < storyK {
					t.Errorf("%s, %s: %s: %s: %s", v, c.Name, p.Name, p.Verdict, p.Temperature.Judged(*p.LimitDegC))
				}
				if nominal := *p.MarginK < 0; nominal != (want && p.Name == "coil 5" && c.After == "") {
					t.Errorf("%s, %s: %s at the nominal: %s", v, c.Name, p.Name, p.Temperature.Judged(*p.LimitDegC))
				}
			}
		}
	}
}

func TestSameBytesEachTime(t *testing.T) {
	one, two := t.TempDir(), t.TempDir()
	for _, dir := range []string{one, two} {
		if err := Write(dir, BrambleB); err != nil {
			t.Fatal(err)
		}
	}
	err := fs.WalkDir(os.DirFS(one), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		a, errA := fs.ReadFile(os.DirFS(one), path)
		b, errB := fs.ReadFile(os.DirFS(two), path)
		if errA != nil || errB != nil || !bytes.Equal(a, b) {
			t.Errorf("%s differs between two runs", path)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestWriteRefuses(t *testing.T) {
	if err := Write(t.TempDir(), "bramble-z"); err == nil || !strings.Contains(err.Error(), "bramble-a bramble-b") {
		t.Errorf("unknown variant: %v", err)
	}
}
