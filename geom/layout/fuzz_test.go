package layout

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"testing"

	"aftbay/geom"
)

// seeds gives the files of a kind in testdata to a fuzz target.
func seeds(f *testing.F, ext string) {
	f.Helper()
	list, err := filepath.Glob("testdata/seeds/*" + ext)
	if err != nil || len(list) == 0 {
		f.Fatalf("no seeds *%s: %v", ext, err)
	}
	for _, name := range list {
		data, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
}

// tableOf writes load cases as ReadPositions reads them.
func tableOf(t *testing.T, list []Position) []byte {
	t.Helper()
	var out bytes.Buffer
	w := csv.NewWriter(&out)
	rows := [][]string{positionColumns()}
	for _, p := range list {
		row := []string{p.Name}
		for _, v := range []geom.Vec{p.ShiftMM, p.TurnDeg} {
			for _, x := range v {
				row = append(row, strconv.FormatFloat(x, 'g', -1, 64))
			}
		}
		rows = append(rows, row)
	}
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}

// FuzzReadPositions: no input may crash; what is accepted is finite and named,
// and survives being written and read.
func FuzzReadPositions(f *testing.F) {
	seeds(f, ".csv")
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := ReadPositions(data, "fuzz")
		if err != nil {
			faultsOf(t, err)
			return
		}
		for _, p := range list {
			if p.Name == "" || !geom.IsFinite(p.ShiftMM) || !geom.IsFinite(p.TurnDeg) {
				t.Errorf("accepted %+v", p)
			}
		}
		again, err := ReadPositions(tableOf(t, list), "again")
		if err != nil || !reflect.DeepEqual(list, again) {
			t.Fatalf("written and read: %v\n%+v\n%+v", err, list, again)
		}
	})
}

// FuzzOpenPacked: no archive may crash or lead out; one that is accepted with
// all its files is packed again, opens as the same layout with the same files,
// and then packs to the same bytes.
func FuzzOpenPacked(f *testing.F) {
	seeds(f, PackedExt)
	f.Fuzz(func(t *testing.T, data []byte) {
		dir := t.TempDir()
		path := filepath.Join(dir, "fuzz"+PackedExt)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		first, ok := repacked(t, path)
		if !ok {
			return
		}
		path = filepath.Join(dir, "again"+PackedExt)
		if err := os.WriteFile(path, first, 0o644); err != nil {
			t.Fatal(err)
		}
		second, ok := repacked(t, path)
		if !ok || !bytes.Equal(first, second) {
			t.Fatalf("packed again: accepted %v, %d and %d bytes", ok, len(first), len(second))
		}
	})
}

// repacked opens an archive and packs it anew; ok is false if it or one of its
// files is refused.
func repacked(t *testing.T, path string) (data []byte, ok bool) {
	t.Helper()
	doc, folder, err := Open(path)
	if err != nil {
		return nil, false
	}
	defer folder.Close()
	var out bytes.Buffer
	if err := Pack(&out, doc, folder); err != nil {
		return nil, false
	}
	return out.Bytes(), true
}
