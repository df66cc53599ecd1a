package layout

import (
	"errors"
	"os"
	"reflect"
	"strings"
	"testing"
)

func maximal(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/maximal.json")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// TestRoundTrip: the maximal file is in the form that Encode writes, so that
// one round trip already gives its bytes.
func TestRoundTrip(t *testing.T) {
	data := maximal(t)
	doc, err := Decode(data, "maximal.json")
	if err != nil {
		t.Fatal(err)
	}
	got, err := Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != string(data) {
		t.Errorf("encoded differs:\n%s", firstDifference(string(data), string(got)))
	}
	again, err := Decode(got, "again")
	if err != nil || !reflect.DeepEqual(doc, again) {
		t.Errorf("second reading differs: %v", err)
	}
}

func firstDifference(want, got string) string {
	w, g := strings.Split(want, "\n"), strings.Split(got, "\n")
	for i := range min(len(w), len(g)) {
		if w[i] != g[i] {
			return "want " + w[i] + "\ngot  " + g[i]
		}
	}
	return "lengths differ"
}

func faultsOf(t *testing.T, err error) Faults {
	t.Helper()
	var f Faults
	if !errors.As(err, &f) {
		t.Fatalf("want Faults, got %v", err)
	}
	return f
}
