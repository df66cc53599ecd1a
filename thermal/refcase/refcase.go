package refcase

import (
	"flag"
	"fmt"
	"strings"
	"sync"
	"testing"
)

// Claims returns, per package, the beginnings of the names of the cases that it
// runs.
func Claims() map[string][]string {
	return map[string][]string{
		"thermal/radiate": {"O-VF", "O-RD04", "O-RD05", "O-RD06", "O-RD07", "O-RD08", "O-RD09", "O-RD1"},
		"thermal/balance": {"O-RD01", "O-RD02", "O-RD03", "O-EQ"},
		"thermal/convect": {"O-CV"},
		"thermal/soak":    {"O-TR"},
	}
}

// Book notes which cases were run.
type Book struct{ ran sync.Map }

// Ran notes one case.
func (b *Book) Ran(id string) { b.ran.Store(id, true) }

// Main runs the tests of a package, then fails unless every case that it claims
// was run. ids are all cases of the file. With a choice of tests (-run) nothing
// is asked.
func (b *Book) Main(m *testing.M, pkg string, ids []string) int {
	code := m.Run()
	for _, name := range []string{"test.run", "test.skip", "test.list", "test.fuzz"} {
		if f := flag.Lookup(name); f != nil && f.Value.String() != "" {
			return code
		}
	}
	for _, id := range ids {
		if _, ok := b.ran.Load(id); !ok && Claimed(pkg, id) {
			fmt.Printf("reference case %s was not run by %s\n", id, pkg)
			code = 1
		}
	}
	return code
}

// Claimed reports whether a package claims a case.
func Claimed(pkg, id string) bool {
	for _, start := range Claims()[pkg] {
		if strings.HasPrefix(id, start) {
			return true
		}
	}
	return false
}
