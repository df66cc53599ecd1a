package rules_test

import (
	"os"
	"sync"
	"testing"

	"aftbay/cmd/internal/rules"
)

// house reads the module once for all tests.
var house = sync.OnceValues(func() (*rules.Module, error) { return rules.Load(os.DirFS("../../..")) })

// check runs one rule over the whole module.
func check(t *testing.T, rule func(*rules.Module) ([]rules.Finding, error)) {
	t.Helper()
	m, err := house()
	if err != nil {
		t.Fatal(err)
	}
	found, err := rule(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range found {
		t.Error(f)
	}
}

// sure gives a rule that cannot fail to read the shape of one that can.
func sure(rule func(*rules.Module) []rules.Finding) func(*rules.Module) ([]rules.Finding, error) {
	return func(m *rules.Module) ([]rules.Finding, error) { return rule(m), nil }
}

func TestImportsPointDown(t *testing.T)          { check(t, sure(rules.Imports)) }
func TestNamesEndInTheirUnit(t *testing.T)       { check(t, sure(rules.Units)) }
func TestFilesAndFunctionsAreShort(t *testing.T) { check(t, sure(rules.Sizes)) }
func TestPackagesSayWhatTheyHold(t *testing.T)   { check(t, sure(rules.Packages)) }
func TestNoHiddenState(t *testing.T)             { check(t, sure(rules.State)) }
func TestNoClockNoChance(t *testing.T)           { check(t, sure(rules.Chance)) }
func TestNothingReachesOut(t *testing.T)         { check(t, sure(rules.Reach)) }
func TestNoUnwantedWords(t *testing.T)           { check(t, rules.Words) }
func TestTopLevelAsDesigned(t *testing.T)        { check(t, rules.TopLevel) }
func TestManualNamesEveryKey(t *testing.T)       { check(t, rules.Manual) }
func TestEveryFileHasAnOrigin(t *testing.T)      { check(t, rules.Origins) }

// The module is really there: a rule that reads nothing finds nothing.
func TestHouseIsRead(t *testing.T) {
	m, err := house()
	if err != nil {
		t.Fatal(err)
	}
	dirs := map[string]bool{}
	for _, f := range m.Files {
		dirs[f.Dir] = true
	}
	for _, dir := range []string{"geom", "geom/layout", "cmd/aftbay", "cmd/internal/rules"} {
		if !dirs[dir] {
			t.Errorf("no Go file of %s was read", dir)
		}
	}
}
