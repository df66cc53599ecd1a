package soak

import (
	"fmt"
	"os"
	"testing"

	"aftbay/thermal/refcase"
)

// book notes the reference cases that were run.
var book refcase.Book

func TestMain(m *testing.M) {
	ids, err := refcase.IDs("../../testdata/reference/thermal_open.json")
	if err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
	os.Exit(book.Main(m, "thermal/soak", ids))
}
