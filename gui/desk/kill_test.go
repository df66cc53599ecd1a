package desk

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"aftbay/geom"
	"aftbay/geom/layout"
)

// childDir and childFrom, when set, make the test binary work on a layout from
// a step on until it is killed.
const (
	childDir  = "AFTBAY_CHILD_DIR"
	childFrom = "AFTBAY_CHILD_FROM"
	longRuns  = "AFTBAY_LONG"
)

// How many steps the kill test takes; the long run takes the first.
const (
	killSteps      = 500
	killStepsQuick = 40
	killSeed       = 7
)

func TestMain(m *testing.M) {
	if dir := os.Getenv(childDir); dir != "" {
		from, err := strconv.Atoi(os.Getenv(childFrom))
		if err == nil {
			err = workUntilKilled(dir, from)
		}
		fmt.Println("failed:", err)
		os.Exit(3)
	}
	os.Exit(m.Run())
}

// workUntilKilled recovers what is there, then takes step after step and says
// so after each.
func workUntilKilled(dir string, from int) error {
	d := New(1, nil)
	if err := d.OpenToWork(context.Background(), dir, Recover); err != nil {
		return err
	}
	d.Cancel() // no answers: they would only take time from the steps
	fmt.Println("open")
	for i := from; i < killSteps; i++ {
		if err := killStep(d, i); err != nil {
			return fmt.Errorf("step %d: %w", i, err)
		}
		fmt.Println("done", i)
	}
	fmt.Println("end")
	time.Sleep(time.Hour)
	return nil
}

// killKind returns what step i does: of every eight, one saves, one undoes the
// edit before it and one may redo that.
func killKind(i int) string {
	switch r := rand.New(rand.NewPCG(killSeed, uint64(i/8))); i % 8 {
	case 2:
		return "undo"
	case 3:
		if r.IntN(2) == 0 {
			return "redo"
		}
	case 5 + int(r.IntN(2)):
		return "save"
	}
	return "edit"
}

func killStep(d *Desk, i int) error {
	switch killKind(i) {
	case "undo":
		return d.Undo()
	case "redo":
		return d.Redo()
	case "save":
		return d.Save()
	}
	if name := "edit " + strconv.Itoa(i); i%8 == 1 || i%8 == 7 {
		return d.Change(name, changesOfStep(i)...) // as the editor types it
	} else if i%8 == 4 {
		if err := d.Carry(Load{Parts: []string{"lid"}}, geom.Shift(wayOfStep(i))); err != nil {
			return err
		}
		return d.PutDown() // as a drag ends
	}
	return d.Edit("edit "+strconv.Itoa(i), func(doc *layout.Document) error { editOfStep(doc, i); return nil })
}

// wayOfStep is how far step i carries the lid, exactly representable.
func wayOfStep(i int) geom.Vec { return geom.Vec{0.5, -0.25 * float64(i%5+1), 1} }

// changesOfStep are the values that step i puts into the layout.
func changesOfStep(i int) []Change {
	r := rand.New(rand.NewPCG(killSeed+2, uint64(i)))
	return []Change{
		{"/title", fmt.Sprint("after step ", i)},
		{"/parts/" + strconv.Itoa(r.IntN(3)) + "/tolerance_mm", float64(r.IntN(9))},
		{"/rules/-", map[string]any{"a": "*", "b": "part:lid", "least_mm": float64(r.IntN(50))}},
	}
}

// stepped returns the document after the edit of step i.
func stepped(doc *layout.Document, i int) (*layout.Document, error) {
	switch i % 8 {
	case 1, 7:
		return changed(doc, changesOfStep(i))
	case 4:
		return doc, Load{Parts: []string{"lid"}}.put(doc, geom.Shift(wayOfStep(i)))
	}
	editOfStep(doc, i)
	return doc, nil
}

// editOfStep is the edit of step i: a title that names it, and moved parts.
func editOfStep(doc *layout.Document, i int) {
	r := rand.New(rand.NewPCG(killSeed+1, uint64(i)))
	doc.Title = fmt.Sprint("after step ", i)
	for k := range r.IntN(len(doc.Parts) + 1) {
		doc.Parts[k].MoveMM = geom.Vec{float64(r.IntN(100)), float64(r.IntN(100)), r.Float64()}
	}
}

// statesOf returns the document's text before every step and after the last.
func statesOf(t *testing.T, dir string, steps int) []string {
	t.Helper()
	doc, folder, err := layout.Open(dir)
	must(t, err)
	must(t, folder.Close())
	encode := func() string {
		data, err := layout.Encode(doc)
		must(t, err)
		return string(data)
	}
	texts := []string{encode()}
	for i := range steps {
		switch killKind(i) {
		case "undo":
			texts = append(texts, texts[i-1])
		case "redo":
			texts = append(texts, texts[i-1])
		case "save":
			texts = append(texts, texts[i])
		default:
			doc, err = layout.Decode([]byte(texts[i]), "")
			must(t, err)
			doc, err = stepped(doc, i)
			must(t, err)
			texts = append(texts, encode())
		}
	}
	return texts
}

// TestKilledAtAnyMoment kills a child process at random moments of its edits
// and saves and lets the next one go on: nothing but the step under way is ever
// lost. The long run takes 500 steps.
func TestKilledAtAnyMoment(t *testing.T) {
	steps := killStepsQuick
	if os.Getenv(longRuns) != "" {
		steps = killSteps
	}
	t.Run("folder", func(t *testing.T) { killAll(t, plainLayout(t), steps) })
	t.Run("packed", func(t *testing.T) {
		doc, folder, err := layout.Open(plainLayout(t))
		must(t, err)
		packed := filepath.Join(t.TempDir(), "car.aftbay")
		must(t, layout.SaveAs(packed, doc, folder))
		must(t, folder.Close())
		killAll(t, packed, steps/2)
	})
}

// killAll walks through the steps of one layout.
func killAll(t *testing.T, dir string, steps int) {
	t.Helper()
	texts := statesOf(t, dir, killSteps) // a child may get further than asked
	r := rand.New(rand.NewPCG(killSeed, 1<<32))
	at, kills, recovered, lost := 0, 0, 0, 0
	for at < steps {
		told := runAndKill(t, dir, at, steps, time.Duration(r.IntN(60_000))*time.Microsecond)
		kills++
		if rec, err := Recoverable(dir); err != nil {
			t.Fatal(err)
		} else if rec != nil {
			recovered++
		}
		now := textAfterKill(t, dir)
		switch {
		case now == texts[told]:
		case told < killSteps && now == texts[told+1]:
			told++ // it was done, but nobody was told any more
		default:
			for i, text := range texts {
				if now == text {
					t.Fatalf("kill %d: steps up to %d were done, the layout is as before step %d", kills, told, i)
				}
			}
			t.Fatalf("kill %d: steps up to %d were done, the layout is as never before", kills, told)
		}
		if told == at {
			lost++
		}
		at = told
	}
	t.Logf("%d steps, %d kills, %d with edits to recover, %d before any step was done", at, kills, recovered, lost)
	if recovered == 0 && steps > killStepsQuick { // in few steps that may be chance
		t.Error("never anything to recover: the kills prove nothing")
	}
}

// runAndKill lets a child work from a step on, kills it a while after it has
// opened the layout, and returns how many steps it said were done.
func runAndKill(t *testing.T, dir string, from, steps int, after time.Duration) int {
	t.Helper()
	child := exec.Command(os.Args[0])
	child.Env = append(os.Environ(), childDir+"="+dir, childFrom+"="+strconv.Itoa(from))
	out, err := child.StdoutPipe()
	must(t, err)
	must(t, child.Start())
	done, armed := from, false
	lines := bufio.NewScanner(out)
	for lines.Scan() {
		line := lines.Text()
		if strings.HasPrefix(line, "failed") {
			t.Errorf("child from step %d: %s", from, line)
		}
		if !armed {
			armed = true
			time.AfterFunc(after, func() { _ = child.Process.Kill() }) // it may have ended
		}
		if n, ok := strings.CutPrefix(line, "done "); ok {
			i, err := strconv.Atoi(n)
			must(t, err)
			done = i + 1
		}
		if done >= steps {
			_ = child.Process.Kill()
		}
	}
	_ = child.Wait() // killed
	return done
}

// textAfterKill returns the layout as the next start would recover it.
func textAfterKill(t *testing.T, dir string) string {
	t.Helper()
	d := bareDesk(t)
	must(t, d.OpenToWork(context.Background(), dir, Recover))
	data, err := layout.Encode(d.State().Doc)
	must(t, err)
	must(t, d.Close())
	return string(data)
}
