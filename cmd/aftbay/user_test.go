//go:build window

package main_test

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"aftbay/gui/window"
)

// user sits before the real window: it presses keys, moves the pointer and looks
// at pictures of the screen.
type user struct {
	t      *testing.T
	ctx    context.Context
	app    *exec.Cmd
	said   *bytes.Buffer
	ended  chan error
	id     uint64
	vitals string
	heard  []window.Vitals // read of it
	tmp    string          // where it writes the demo
	waits  time.Duration   // for anything; longer, and it counts as hung

	heardBytes int64 // of vitals
}

// sit starts the program with the demo and waits until its window shows
// something. Nothing is remembered from earlier starts. env adds to its
// environment.
func sit(ctx context.Context, t *testing.T, env ...string) *user {
	t.Helper()
	if os.Getenv("DISPLAY") == "" {
		t.Fatal("no DISPLAY: run this through cmd/test.sh")
	}
	manageWindows(ctx, t)
	dir := t.TempDir()
	binary := filepath.Join(dir, "aftbay")
	run(ctx, t, "go", "build", "-o", binary, ".")
	u := &user{t: t, ctx: ctx, said: &bytes.Buffer{}, ended: make(chan error, 1), waits: patience, vitals: filepath.Join(dir, "vitals"), tmp: t.TempDir()}
	u.app = exec.CommandContext(ctx, binary, "--demo", "--vitals", u.vitals)
	u.app.Stdout, u.app.Stderr = u.said, u.said
	u.app.Env = append(append(os.Environ(), "LANG=en_US.UTF-8", "AFTBAY_THREADS=check", "HOME="+t.TempDir(), "TMPDIR="+u.tmp), env...)
	if err := u.app.Start(); err != nil {
		t.Fatal(err)
	}
	go func() { u.ended <- u.app.Wait() }()
	u.id = awaitWindow(ctx, t, u.ended, u.said)
	awaitPicture(ctx, t, u.id)
	u.activate(u.id)
	return u
}

func (u *user) activate(id uint64) {
	u.t.Helper()
	run(u.ctx, u.t, "xdotool", "windowactivate", "--sync", strconv.FormatUint(id, 10))
}

// press presses keys by the names of xdotool.
func (u *user) press(keys ...string) {
	u.t.Helper()
	run(u.ctx, u.t, "xdotool", append([]string{"key", "--clearmodifiers", "--delay", "60"}, keys...)...)
}

// size returns the size of the window.
func (u *user) size() (wide, high int) {
	u.t.Helper()
	at := u.geometry()
	return at["WIDTH"], at["HEIGHT"]
}

// geometry returns place and size of the window on the screen, by the names of
// xdotool.
func (u *user) geometry() map[string]int {
	u.t.Helper()
	found := map[string]int{}
	for _, line := range strings.Fields(run(u.ctx, u.t, "xdotool", "getwindowgeometry", "--shell", strconv.FormatUint(u.id, 10))) {
		name, value, _ := strings.Cut(line, "=")
		found[name], _ = strconv.Atoi(value)
	}
	return found
}

// at moves the pointer to a place of the window, in shares of its size.
func (u *user) at(x, y float64) {
	u.t.Helper()
	wide, high := u.size()
	run(u.ctx, u.t, "xdotool", "mousemove", "--window", strconv.FormatUint(u.id, 10), strconv.Itoa(int(x*float64(wide))), strconv.Itoa(int(y*float64(high))))
}

// click clicks a button at a place; 1 is the left one.
func (u *user) click(x, y float64, button int) {
	u.at(x, y)
	run(u.ctx, u.t, "xdotool", "click", strconv.Itoa(button))
}

// drag drags from one place to another.
func (u *user) drag(x0, y0, x1, y1 float64) {
	u.at(x0, y0)
	run(u.ctx, u.t, "xdotool", "mousedown", "1")
	const steps = 8
	for i := 1; i <= steps; i++ {
		share := float64(i) / steps
		u.at(x0+share*(x1-x0), y0+share*(y1-y0))
		time.Sleep(30 * time.Millisecond)
	}
	run(u.ctx, u.t, "xdotool", "mouseup", "1")
}

// title returns the title of the window.
func (u *user) title() string {
	out, err := exec.CommandContext(u.ctx, "xdotool", "getwindowname", strconv.FormatUint(u.id, 10)).Output()
	if err != nil {
		return "" // it is going
	}
	return strings.TrimSpace(string(out))
}

// await waits until something holds.
func (u *user) await(what string, holds func() bool) {
	u.t.Helper()
	for deadline := time.Now().Add(u.waits); time.Now().Before(deadline); time.Sleep(150 * time.Millisecond) {
		select {
		case err := <-u.ended:
			u.t.Fatalf("it ended while %s was awaited: %v\n%s", what, err, u.said.String())
		default:
		}
		if holds() {
			return
		}
	}
	u.t.Fatalf("%s did not come; title %q\n%s", what, u.title(), u.said.String())
}

// colours counts the colours of a picture of a window.
func (u *user) colours(id uint64) int {
	shot := filepath.Join(u.t.TempDir(), "shot.png")
	if exec.CommandContext(u.ctx, "import", "-window", strconv.FormatUint(id, 10), shot).Run() != nil {
		return 0 // not mapped
	}
	out, err := exec.CommandContext(u.ctx, "identify", "-format", "%k", shot).Output()
	if err != nil {
		return 0
	}
	n, _ := strconv.Atoi(strings.TrimSpace(string(out)))
	return n
}

// other returns the id of another window of the program by its title, 0 for
// none.
func (u *user) other(title string) uint64 {
	out, err := exec.CommandContext(u.ctx, "xdotool", "search", "--onlyvisible", "--name", title).Output()
	if err != nil {
		return 0
	}
	for _, word := range strings.Fields(string(out)) {
		if id, err := strconv.ParseUint(word, 10, 64); err == nil && id != u.id {
			return id
		}
	}
	return 0
}

// shows returns what the window showed in the second that ended last.
func (u *user) shows() window.Shown {
	u.t.Helper()
	all := u.fared()
	if len(all) == 0 {
		return window.Shown{}
	}
	return all[len(all)-1].Shown
}

// settled awaits that every answer on the strip is of now, for two seconds on
// end, and that something else holds too.
func (u *user) settled(what string, holds func(s window.Shown) bool) (s window.Shown) {
	u.t.Helper()
	from := len(u.fared())
	u.await(what, func() bool {
		all := u.fared()
		if len(all) < from+2 {
			return false
		}
		s = all[len(all)-1].Shown
		return answered(s) && answered(all[len(all)-2].Shown) && holds(s)
	})
	return s
}

// answered tells whether every answer on the strip is there and of now.
func answered(s window.Shown) bool {
	for _, tile := range s.Tiles {
		if tile.Answer == "" || tile.Verdict == "" || tile.Stale || tile.Busy != "" {
			return false
		}
	}
	return true
}

// pushes waits for a button and clicks it.
func (u *user) pushes(label string) {
	u.t.Helper()
	var at [2]int
	for were, same := [2]int{}, 0; same < 2; { // until it stands still
		u.await("the button "+label, func() bool {
			at = u.shows().Buttons[label]
			return at != [2]int{}
		})
		if at == were {
			same++
		} else {
			were, same = at, 0
		}
		seen := len(u.fared())
		u.await("another second", func() bool { return len(u.fared()) > seen })
	}
	run(u.ctx, u.t, "xdotool", "mousemove", "--window", strconv.FormatUint(u.id, 10), strconv.Itoa(at[0]), strconv.Itoa(at[1]))
	run(u.ctx, u.t, "xdotool", "click", "1")
}

// leave closes the window by its frame and waits until the program has ended
// without a complaint.
func (u *user) leave() {
	u.t.Helper()
	run(u.ctx, u.t, "wmctrl", "-i", "-c", fmt.Sprintf("0x%x", u.id))
	select {
	case err := <-u.ended:
		if err != nil {
			u.t.Errorf("closed with %v\n%s", err, u.said.String())
		}
	case <-time.After(patience):
		u.t.Error("the window was asked to close and did not")
	}
	if text := u.said.String(); strings.Contains(text, wrongThread) || strings.Contains(text, "panic:") {
		u.t.Errorf("it complained:\n%s", text)
	}
}

// fared returns what the window told of itself so far. In hours that becomes long:
// what has been read is not read again.
func (u *user) fared() []window.Vitals {
	u.t.Helper()
	f, err := os.Open(u.vitals)
	if err != nil {
		u.t.Fatal(err)
	}
	defer f.Close()
	if _, err := f.Seek(u.heardBytes, io.SeekStart); err != nil {
		u.t.Fatal(err)
	}
	for lines := bufio.NewReader(f); ; {
		line, err := lines.ReadBytes('\n')
		if err != nil {
			return u.heard // the last line may be cut
		}
		u.heardBytes += int64(len(line))
		var v window.Vitals
		if err := json.Unmarshal(line, &v); err != nil {
			u.t.Fatalf("vitals: %v", err)
		}
		u.heard = append(u.heard, v)
	}
}
