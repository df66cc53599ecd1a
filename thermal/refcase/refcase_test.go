package refcase

import "testing"

// Every one of the 85 cases is claimed by one package, and by one only.
func TestClaimsCoverEveryCase(t *testing.T) {
	ids, err := IDs("../../testdata/reference/thermal_open.json")
	if err != nil {
		t.Fatal(err)
	}
	if len(ids) != 85 {
		t.Errorf("%d cases, want 85", len(ids))
	}
	for _, id := range ids {
		count := 0
		for pkg := range Claims() {
			if Claimed(pkg, id) {
				count++
			}
		}
		if count != 1 {
			t.Errorf("%s is claimed by %d packages", id, count)
		}
	}
}
