package report

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// browser is a Chromium without a window that a test drives over two pipes, as
// its DevTools protocol says: a message is JSON and ends with a zero byte; the
// browser reads descriptor 3 and writes descriptor 4.
//
// Source: Chrome DevTools Protocol, --remote-debugging-pipe.
type browser struct {
	t       *testing.T
	to      io.Writer
	from    *bufio.Reader
	session string
	count   int
	events  []message
}

type message struct {
	ID     int             `json:"id,omitempty"`
	Method string          `json:"method,omitempty"`
	Params json.RawMessage `json:"params,omitempty"`
	Result json.RawMessage `json:"result,omitempty"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error,omitempty"`
}

// browserNames are what the program is called. Read-only.
var browserNames = []string{"chromium", "chromium-browser"}

// browserSays is the longest that a browser may keep silent before the test
// gives up; no figure is judged by it.
const browserSays = 60 * time.Second

// openBrowser starts a browser with the page at path. Where there is none the
// test is left out, unless AFTBAY_BROWSER asks for it.
func openBrowser(t *testing.T, path string) *browser {
	t.Helper()
	program := ""
	for _, name := range browserNames {
		if found, err := exec.LookPath(name); err == nil {
			program = found
			break
		}
	}
	if program == "" {
		words := fmt.Sprintf("NO BROWSER: none of %s is on this machine, so the page was not tried in one", strings.Join(browserNames, ", "))
		if os.Getenv("AFTBAY_BROWSER") != "" {
			t.Fatal(words)
		}
		t.Skip(words)
	}
	home, err := os.MkdirTemp("", "aftbay-browser-")
	if err != nil {
		t.Fatal(err)
	}
	in, to, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	from, out, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(program, "--headless", "--no-sandbox", "--disable-gpu", "--use-angle=swiftshader", "--enable-unsafe-swiftshader",
		"--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--disable-dev-shm-usage",
		"--user-data-dir="+home, "--window-size=1400,1000", "--force-device-scale-factor=1", "--remote-debugging-pipe", "about:blank")
	cmd.ExtraFiles = []*os.File{in, out}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	in.Close()
	out.Close()
	from.SetReadDeadline(time.Now().Add(4 * browserSays))
	b := &browser{t: t, to: to, from: bufio.NewReaderSize(from, 1<<20)}
	t.Cleanup(func() {
		b.session = ""
		if _, err := b.try("Browser.close", nil); err != nil {
			cmd.Process.Kill()
		}
		cmd.Wait()
		to.Close()
		from.Close()
		os.RemoveAll(home) // what a last helper still writes there stays behind
	})
	b.attach(path)
	return b
}

// attach takes the first tab, listens to what goes wrong there and loads a file.
func (b *browser) attach(path string) {
	b.t.Helper()
	var tabs struct {
		TargetInfos []struct{ TargetID, Type string }
	}
	b.call("Target.getTargets", nil, &tabs)
	for _, tab := range tabs.TargetInfos {
		if tab.Type == "page" {
			var got struct{ SessionID string }
			b.call("Target.attachToTarget", map[string]any{"targetId": tab.TargetID, "flatten": true}, &got)
			b.session = got.SessionID
			break
		}
	}
	for _, domain := range []string{"Runtime", "Log", "Page", "Network"} {
		b.call(domain+".enable", nil, nil)
	}
	full, err := filepath.Abs(path)
	if err != nil {
		b.t.Fatal(err)
	}
	b.call("Page.navigate", map[string]any{"url": "file://" + filepath.ToSlash(full)}, nil)
	for !b.happened("Page.loadEventFired") {
		if _, err := b.next(); err != nil {
			b.t.Fatal(err)
		}
	}
}

// happened reports whether the browser told of an event.
func (b *browser) happened(method string) bool {
	for _, e := range b.events {
		if e.Method == method {
			return true
		}
	}
	return false
}

// next reads one message and keeps it if it is an event.
func (b *browser) next() (message, error) {
	var m message
	raw, err := b.from.ReadBytes(0)
	if err != nil {
		return m, fmt.Errorf("the browser fell silent: %w", err)
	}
	if err := json.Unmarshal(raw[:len(raw)-1], &m); err != nil {
		return m, err
	}
	if m.ID == 0 {
		b.events = append(b.events, m)
	}
	return m, nil
}

// try sends a command and waits for its answer.
func (b *browser) try(method string, params any) (json.RawMessage, error) {
	b.count++
	ask := map[string]any{"id": b.count, "method": method}
	if params != nil {
		ask["params"] = params
	}
	if b.session != "" {
		ask["sessionId"] = b.session
	}
	raw, err := json.Marshal(ask)
	if err != nil {
		return nil, err
	}
	if _, err := b.to.Write(append(raw, 0)); err != nil {
		return nil, err
	}
	for {
		m, err := b.next()
		switch {
		case err != nil:
			return nil, err
		case m.ID != b.count:
		case m.Error != nil:
			return nil, errors.New(method + ": " + m.Error.Message)
		default:
			return m.Result, nil
		}
	}
}

// call sends a command and reads its answer into result.
func (b *browser) call(method string, params, result any) {
	b.t.Helper()
	raw, err := b.try(method, params)
	if err == nil && result != nil {
		err = json.Unmarshal(raw, result)
	}
	if err != nil {
		b.t.Fatal(err)
	}
}

// eval runs a script's expression in the page and reads what it gives.
func (b *browser) eval(result any, script string) {
	b.t.Helper()
	var got struct {
		Result           struct{ Value json.RawMessage }
		ExceptionDetails *struct {
			Text      string
			Exception struct{ Description string }
		}
	}
	b.call("Runtime.evaluate", map[string]any{"expression": script, "returnByValue": true}, &got)
	if e := got.ExceptionDetails; e != nil {
		b.t.Fatalf("%s: %s %s", script, e.Text, e.Exception.Description)
	}
	if err := json.Unmarshal(got.Result.Value, result); err != nil {
		b.t.Fatalf("%s: %q: %v", script, got.Result.Value, err)
	}
}

// mouse sends what a hand does at a place of the window, px.
func (b *browser) mouse(kind string, xPx, yPx float64, clicks int) {
	b.t.Helper()
	buttons := 1
	if kind == "mouseReleased" {
		buttons = 0
	}
	b.call("Input.dispatchMouseEvent", map[string]any{"type": kind, "x": xPx, "y": yPx, "button": "left", "buttons": buttons, "clickCount": clicks}, nil)
}

// click presses and lets go in the middle of what a script finds.
func (b *browser) click(element string) {
	b.t.Helper()
	x, y := b.middle(element)
	b.mouse("mousePressed", x, y, 1)
	b.mouse("mouseReleased", x, y, 1)
}

// middle brings what a script finds into the window and says where its middle
// is, px.
func (b *browser) middle(element string) (xPx, yPx float64) {
	b.t.Helper()
	var at [2]float64
	b.eval(&at, "(() => { const e = "+element+"; e.scrollIntoView({block: 'center'}); const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()")
	return at[0], at[1]
}

// printed returns the page as the browser prints it: PDF.
func (b *browser) printed() []byte {
	b.t.Helper()
	var got struct{ Data string }
	b.call("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true}, &got)
	data, err := base64.StdEncoding.DecodeString(got.Data)
	if err != nil {
		b.t.Fatal(err)
	}
	return data
}
