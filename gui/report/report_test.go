package report

import (
	"bytes"
	"os"
	"testing"
)

// TestWriteForLooking writes the sample where REPORT_OUT says, to be looked at.
func TestWriteForLooking(t *testing.T) {
	path := os.Getenv("REPORT_OUT")
	if path == "" {
		t.Skip("REPORT_OUT is not set")
	}
	var out bytes.Buffer
	if err := WritePDF(&out, richModel(), PDFOptions{}); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}
