package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"aftbay/cmd/internal/demo"
)

// do runs a call and returns its exit code and outputs.
func do(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(context.Background(), args, &out, &errs)
	return code, out.String(), errs.String()
}

// bramble writes the demo into a folder of its own.
func bramble(t *testing.T, v demo.Variant) string {
	t.Helper()
	dir := t.TempDir()
	if err := demo.Write(dir, v); err != nil {
		t.Fatal(err)
	}
	return dir
}

// decode reads the JSON of a verb.
func decode(t *testing.T, text string) map[string]any {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		t.Fatalf("%v in %.200s", err, text)
	}
	return v
}

func TestHelpNamesEveryVerbAndFlag(t *testing.T) {
	code, out, _ := do(t, "--help")
	if code != exitFine {
		t.Errorf("exit %d", code)
	}
	for _, word := range append(verbNames(), "--json", "--csv", "--workers", "--timing", "--quiet", "--factors", "--out", "Not a release") {
		if !strings.Contains(out, word) {
			t.Errorf("help does not name %s", word)
		}
	}
}

// TestEveryVerbAnswersTheDemo checks the main fields of the contract and the
// exit code: Bramble has findings that fail and parts that are too hot.
func TestEveryVerbAnswersTheDemo(t *testing.T) {
	dir := coarse(t, bramble(t, demo.BrambleB))
	for _, c := range []struct {
		verb   string
		code   int
		fields []string
		row    string // list whose first row must have rowFields
		has    []string
	}{
		{"inspect", exitFine, []string{"parts"}, "parts", []string{"name", "triangles", "box_min_mm", "box_max_mm", "area_mm2", "volume_mm3", "centroid_mm", "closed", "faults", "posed", "inertia_mm5"}},
		{"clearance", exitFails, []string{"pairs", "unchecked"}, "pairs", []string{"a", "b", "state", "clearance_mm", "error_mm", "overlap", "overlap_volume_mm3", "point_a_mm", "point_b_mm", "least_mm", "margin_mm", "verdict", "rule", "source", "move_out_mm"}},
		{"drop", exitFails, []string{"window_mm", "binding", "limits", "curve"}, "curve", []string{"drop_mm", "ground_mm", "deck_mm", "half_shaft_deg", "seen_share", "cg_mm", "load_transfer_N"}},
		{"rear-view", exitFine, []string{"seen", "required", "lost_by", "nearest_road_mm", "angle_deg", "image_eyes_mm", "highest_allowed_mm"}, "rules", []string{"seen", "required", "lost_by"}},
		{"heat", exitFails, []string{"cases", "factors", "shields", "warnings", "validation"}, "cases", []string{"name", "parts", "balance_W"}},
		{"spots", exitFine, []string{"spots", "refused"}, "spots", []string{"rank", "host", "point_mm", "normal", "turn_deg", "temperature_degC", "clearance_mm", "reach_mm", "score"}},
		{"speed", exitFine, []string{"triangles", "build_ms", "ray_build_ms", "rays_per_s", "any_hit_rays_per_s", "plain_ray_build_ms", "plain_rays_per_s", "plain_any_hit_rays_per_s", "pairs", "vectors", "all_pairs_ms", "near_pairs_ms", "plain_all_pairs_ms", "different_gaps", "frame_ms"}, "", nil},
	} {
		args := []string{c.verb, dir, "--json", "-", "--timing"}
		if c.verb == "heat" {
			args = append(args, "--factors", "--shields")
		}
		code, out, errs := do(t, args...)
		if code != c.code || errs != "" {
			t.Errorf("%s: exit %d, want %d; %s", c.verb, code, c.code, errs)
			continue
		}
		v := decode(t, out)
		for _, f := range append(c.fields, "timing_ms") {
			if _, ok := v[f]; !ok {
				t.Errorf("%s: no field %s", c.verb, f)
			}
		}
		if c.row == "" {
			continue
		}
		row := v[c.row].([]any)[0].(map[string]any)
		for _, f := range c.has {
			if _, ok := row[f]; !ok {
				t.Errorf("%s: %s[0] has no field %s", c.verb, c.row, f)
			}
		}
	}
}

// coarse lowers the rays of the demo: less time, the same questions.
func coarse(t *testing.T, dir string) string {
	t.Helper()
	edit(t, filepath.Join(dir, "layout.json"), func(b []byte) []byte {
		out := bytes.Replace(b, []byte(`"rays": 512`), []byte(`"rays": 64`), 1)
		if bytes.Equal(out, b) {
			t.Fatal("the demo asks for other rays")
		}
		return out
	})
	return dir
}

// TestSameBytesForAnyWorkers: clearance and drop; heat and spots are compared
// in their own packages too.
func TestSameBytesForAnyWorkers(t *testing.T) {
	dir := coarse(t, bramble(t, demo.BrambleB))
	for _, verb := range []string{"clearance", "drop", "rear-view", "heat"} {
		_, one, _ := do(t, verb, dir, "--json", "-", "--workers", "1")
		_, seven, _ := do(t, verb, "--workers", "7", "--json", "-", dir)
		if one != seven || one == "" {
			t.Errorf("%s: one worker and seven give different bytes", verb)
		}
	}
}

// TestBadInputIsRefused: one clear line with file, key and mend, exit 2, and no
// result file left behind.
func TestBadInputIsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(t *testing.T, dir string)
		want  []string
	}{
		"missing mesh": {func(t *testing.T, dir string) { remove(t, filepath.Join(dir, "meshes", "block.stl")) }, []string{"meshes/block.stl", `"block"`}},
		"lying count": {func(t *testing.T, dir string) {
			edit(t, filepath.Join(dir, "meshes", "block.stl"), func(b []byte) []byte { copy(b[80:84], "\xff\xff\xff\x7f"); return b })
		}, []string{"block.stl", "2147483647"}},
		"truncated": {func(t *testing.T, dir string) {
			edit(t, filepath.Join(dir, "meshes", "block.stl"), func(b []byte) []byte { return b[:len(b)-30] })
		}, []string{"block.stl"}},
		"not a number": {func(t *testing.T, dir string) {
			edit(t, filepath.Join(dir, "meshes", "block.stl"), func(b []byte) []byte { copy(b[96:100], "\x00\x00\xc0\x7f"); return b })
		}, []string{"block.stl"}},
		"unknown key": {func(t *testing.T, dir string) {
			edit(t, filepath.Join(dir, "layout.json"), func(b []byte) []byte { return bytes.Replace(b, []byte(`"mass_kg"`), []byte(`"mass_Kg"`), 1) })
		}, []string{"layout.json", "mass_Kg", "mass_kg"}},
		"path leaving": {func(t *testing.T, dir string) {
			edit(t, filepath.Join(dir, "layout.json"), func(b []byte) []byte {
				return bytes.Replace(b, []byte(`"meshes/block.stl"`), []byte(`"../block.stl"`), 1)
			})
		}, []string{"layout.json", "../block.stl"}},
	} {
		dir := bramble(t, demo.BrambleB)
		c.spoil(t, dir)
		result := filepath.Join(t.TempDir(), "out.json")
		code, out, errs := do(t, "clearance", dir, "--json", result)
		if code != exitRefused || out != "" {
			t.Errorf("%s: exit %d, output %q", name, code, out)
		}
		for _, w := range c.want {
			if !strings.Contains(errs, w) {
				t.Errorf("%s: the message does not name %s: %s", name, w, errs)
			}
		}
		if lines := strings.Count(strings.TrimSpace(errs), "\n"); lines > 0 {
			t.Errorf("%s: %d lines for one fault: %s", name, lines+1, errs)
		}
		if _, err := os.Stat(result); !os.IsNotExist(err) {
			t.Errorf("%s: a result file was left", name)
		}
	}
}

func TestBadCallsAreRefused(t *testing.T) {
	for name, args := range map[string][]string{
		"no verb": {}, "unknown verb": {"fit", "x"}, "no layout": {"clearance"}, "two layouts": {"drop", "a", "b"},
		"unknown flag": {"heat", "a", "--fast"}, "report without out": {"report", "a"}, "no folder": {"inspect", filepath.Join(t.TempDir(), "none")},
		"bad variant": {"demo", t.TempDir(), "--variant", "c"}, "negative workers": {"drop", "a", "--workers", "-2"},
		"bad date": {"report", "a", "--out", "b", "--date", "today"},
	} {
		code, _, errs := do(t, args...)
		if code != exitRefused || len(args) > 0 && errs == "" {
			t.Errorf("%s: exit %d, said %q", name, code, errs)
		}
	}
}

func TestCancelledCallWritesNothing(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	result := filepath.Join(t.TempDir(), "out.json")
	var out, errs bytes.Buffer
	if code := run(ctx, []string{"clearance", bramble(t, demo.BrambleB), "--json", result}, &out, &errs); code != exitCancelled {
		t.Errorf("exit %d: %s", code, errs.String())
	}
	if _, err := os.Stat(result); !os.IsNotExist(err) {
		t.Error("a result file was left")
	}
}

func remove(t *testing.T, path string) {
	t.Helper()
	if err := os.Remove(path); err != nil {
		t.Fatal(err)
	}
}

func edit(t *testing.T, path string, change func([]byte) []byte) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, change(data), 0o644); err != nil {
		t.Fatal(err)
	}
}
