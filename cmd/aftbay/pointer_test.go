//go:build window

package main_test

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"strings"
	"time"
)

// pointer moves the pointer of a display and knows when it did, to within some
// microseconds: a program started for each move would not.
//
// Source: X Window System Protocol, version 11, "Connection Setup",
// "QueryExtension"; XTEST Extension Protocol 2.2, "XTestFakeInput".
type pointer struct {
	conn  net.Conn
	xtest byte // the extension's number on this display
}

// sent is a move that was asked for.
type sent struct {
	atUS int64 // Unix time in microseconds
	x, y int
}

// Kinds of events, from the protocol.
const (
	keyPress, keyRelease       = 2, 3
	buttonPress, buttonRelease = 4, 5
	motion                     = 6
)

// newPointer connects to the display that DISPLAY names, on this machine.
func newPointer() (*pointer, error) {
	_, after, _ := strings.Cut(os.Getenv("DISPLAY"), ":")
	number, _, _ := strings.Cut(after, ".")
	conn, err := net.Dial("unix", "/tmp/.X11-unix/X"+number)
	if err != nil {
		return nil, err
	}
	p := &pointer{conn: conn}
	if err := errors.Join(p.setup(number), p.find("XTEST")); err != nil {
		return nil, errors.Join(err, conn.Close())
	}
	return p, nil
}

var order = binary.LittleEndian

// setup opens the connection, with the cookie of the display if there is one.
func (p *pointer) setup(number string) error {
	name, cookie := "", []byte(nil)
	if c := cookieOf(os.Getenv("XAUTHORITY"), number); c != nil {
		name, cookie = "MIT-MAGIC-COOKIE-1", c
	}
	b := []byte{'l', 0}
	b = order.AppendUint16(b, 11)
	b = order.AppendUint16(b, 0)
	b = order.AppendUint16(b, uint16(len(name)))
	b = order.AppendUint16(b, uint16(len(cookie)))
	b = append(b, 0, 0)
	b = append(b, padded([]byte(name))...)
	b = append(b, padded(cookie)...)
	if _, err := p.conn.Write(b); err != nil {
		return err
	}
	head := make([]byte, 8)
	if _, err := io.ReadFull(p.conn, head); err != nil {
		return err
	}
	rest := make([]byte, 4*int(order.Uint16(head[6:])))
	if _, err := io.ReadFull(p.conn, rest); err != nil {
		return err
	}
	if head[0] != 1 {
		return fmt.Errorf("the display refused: %q", rest)
	}
	return nil
}

// find asks for the number of an extension.
func (p *pointer) find(name string) error {
	b := []byte{98, 0}
	b = order.AppendUint16(b, uint16(2+(len(name)+3)/4))
	b = order.AppendUint16(b, uint16(len(name)))
	b = append(b, 0, 0)
	if _, err := p.conn.Write(append(b, padded([]byte(name))...)); err != nil {
		return err
	}
	reply := make([]byte, 32)
	if _, err := io.ReadFull(p.conn, reply); err != nil {
		return err
	}
	if reply[8] == 0 {
		return fmt.Errorf("the display has no %s", name)
	}
	p.xtest = reply[9]
	return nil
}

// send makes an event: of a button or key by its number, of the pointer by its
// place on the screen.
func (p *pointer) send(kind, detail byte, x, y int) (sent, error) {
	b := []byte{p.xtest, 2, 9, 0, kind, detail}
	b = append(b, make([]byte, 18)...) // unused, time 0: now, the screen of the pointer, unused
	b = order.AppendUint16(b, uint16(x))
	b = order.AppendUint16(b, uint16(y))
	b = append(b, make([]byte, 8)...)
	at := time.Now().UnixMicro()
	_, err := p.conn.Write(b)
	return sent{at, x, y}, err
}

func padded(b []byte) []byte { return append(b, make([]byte, (4-len(b)%4)%4)...) }

// cookieOf returns the cookie of a display from a file of them, nil for none.
// Source: Xauthority(5) and xauth: family, then address, number, name and data,
// each with its length, all of high byte first.
func cookieOf(path, number string) []byte {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	in := bytes.NewReader(data)
	field := func() []byte {
		var n uint16
		if binary.Read(in, binary.BigEndian, &n) != nil {
			return nil
		}
		b := make([]byte, n)
		if _, err := io.ReadFull(in, b); err != nil {
			return nil
		}
		return b
	}
	for in.Len() > 4 {
		var family uint16
		_ = binary.Read(in, binary.BigEndian, &family) // there are 4 bytes
		_, of, name, cookie := field(), field(), field(), field()
		if string(name) == "MIT-MAGIC-COOKIE-1" && (string(of) == number || len(of) == 0) {
			return cookie
		}
	}
	return nil
}

// origin returns where the window is on the screen.
func (u *user) origin() (x, y int) {
	u.t.Helper()
	at := u.geometry()
	return at["X"], at["Y"]
}
