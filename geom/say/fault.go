package say

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
)

// fault is an error that can be told in any language.
type fault struct {
	error // what package fmt made of it, which wraps
	text  Text
}

// New returns an error that says a text.
func New(english string) error {
	return &fault{errors.New(english), whole(english)}
}

// Errorf returns an error as fmt.Errorf does, %w included. Texts and errors among
// the arguments are told in the language that the whole is.
func Errorf(format string, args ...any) error {
	return &fault{fmt.Errorf(format, args...), Text{format, args}}
}

// Unwrap returns the error that wraps what the format wraps.
func (f *fault) Unwrap() error { return f.error }

// In returns the error's words in the language of a catalogue.
func (f *fault) In(of Lookup) string { return f.text.In(of) }

// Err returns an error's words in the language of a catalogue: those made here
// and those that have a method In, also where they are joined; English where
// nothing can be known of it.
func Err(err error, of Lookup) string {
	switch e := err.(type) {
	case nil:
		return ""
	case interface{ In(of Lookup) string }:
		return e.In(of)
	case *fs.PathError:
		return e.Op + " " + e.Path + ": " + Err(e.Err, of)
	case interface{ Unwrap() []error }:
		return joined(err, e.Unwrap(), of)
	}
	return system(err).In(of)
}

// joined tells errors that are joined line by line; others that wrap several are
// told as they stand.
func joined(err error, list []error, of Lookup) string {
	english, lines := make([]string, len(list)), make([]string, len(list))
	for i, one := range list {
		english[i], lines[i] = one.Error(), Err(one, of)
	}
	if strings.Join(english, "\n") != err.Error() {
		return err.Error()
	}
	return strings.Join(lines, "\n")
}

// Words returns the text of an error, for a sentence that outlives it.
func Words(err error) Text { return F("%s", err) }

// system returns what the system says: known are its usual faults with a file, in
// the words of POSIX systems and of package fs.
func system(err error) Text {
	for _, known := range []Text{
		Of("no such file or directory"), Of("file does not exist"),
		Of("permission denied"), Of("operation not permitted"),
		Of("file exists"), Of("file already exists"), Of("file already closed"),
		Of("is a directory"), Of("not a directory"), Of("file name too long"),
		Of("no space left on device"), Of("read-only file system"), Of("input/output error"),
		Of("unexpected EOF"),
	} {
		if err.Error() == known.String() {
			return known
		}
	}
	return Name(err.Error())
}
