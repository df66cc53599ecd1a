package journal

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash/crc32"
	"time"

	"aftbay/geom/say"
)

// Kind is what a record tells.
type Kind string

// Kinds of records.
const (
	Base Kind = "base" // the text as last saved: the first record, and no other
	Edit Kind = "edit"
	More Kind = "more" // an edit that belongs to the one before
	Undo Kind = "undo"
	Redo Kind = "redo"
)

// Format and Version are what the first record says of the journal.
const (
	Format  = "aftbay-journal"
	Version = 1
)

// Record is one line of a journal.
type Record struct {
	Kind    Kind      `json:"kind"`
	Format  string    `json:"format,omitempty"`  // of a base
	Version int       `json:"version,omitempty"` // of a base
	Name    string    `json:"name,omitempty"`    // of the edit
	At      time.Time `json:"at"`
	Text    string    `json:"text,omitempty"` // of a base
	Change  Change    `json:"change,omitempty"`
	Sum     string    `json:"sum"` // of the text after it
}

// Sum returns the first half of the SHA-256 of a text, in hexadecimal digits.
func Sum(text []byte) string {
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:16])
}

// crcDigits is the length of the checksum before each record.
const crcDigits = 8

// line returns a record as one line: checksum, space, JSON, line end.
func (r *Record) line() ([]byte, error) {
	var buf bytes.Buffer
	buf.WriteString("00000000 ")
	e := json.NewEncoder(&buf)
	e.SetEscapeHTML(false)
	if err := e.Encode(r); err != nil {
		return nil, say.Errorf("journal: %w", err)
	}
	data := buf.Bytes()
	copy(data, fmt.Sprintf("%08x", crc(data[crcDigits+1:])))
	return data, nil
}

// crc is the checksum of a record (CRC-32C), line end included.
func crc(data []byte) uint32 { return crc32.Checksum(data, crc32.MakeTable(crc32.Castagnoli)) }

// errTorn means that a line is not as it was written.
var errTorn = say.New("torn")

// parse reads one line with its line end.
func parse(line []byte) (Record, error) {
	var r Record
	if len(line) < crcDigits+2 || line[len(line)-1] != '\n' || line[crcDigits] != ' ' {
		return r, errTorn
	}
	body := line[crcDigits+1:]
	if string(line[:crcDigits]) != fmt.Sprintf("%08x", crc(body)) {
		return r, errTorn
	}
	if err := json.Unmarshal(body, &r); err != nil {
		return r, errTorn
	}
	return r, nil
}
