package desk

import (
	"bytes"
	"context"
	"fmt"
	"strconv"
	"strings"
	"unicode"

	"aftbay/geom"
	"aftbay/geom/layout"
	"aftbay/geom/say"
	"aftbay/geom/scene"
	"aftbay/geom/units"
	"aftbay/gui/phrase"
	"aftbay/thermal/balance"
	"aftbay/thermal/shield"
)

// ShieldForms are the forms of a shield on trial, for a choice. Read-only.
var ShieldForms = []string{shield.Shell, shield.Plate}

// ShieldInput is what the reader types to try a shield.
type ShieldInput struct {
	Over, For, Form string
	Offset          string // a length
	Emissivity      string // of both faces, "" for the usual one
}

// ShieldOver lists the parts that a shield for the chosen part may cover: those
// that heat it most, the strongest first.
func ShieldOver(s *State, a *Attention) []string {
	p := chosenPart(s, a)
	if p == nil {
		return nil
	}
	var out []string
	for _, from := range p.From {
		if _, known := s.Scene.Index(from.Part); known && from.Part != p.Name && len(out) < sourcesShown {
			out = append(out, from.Part)
		}
	}
	return out
}

// ShieldOf reads what the reader typed.
func ShieldOf(s *State, in ShieldInput) (sh layout.Shield, err error) {
	offsetMM, err := units.ParseMM(in.Offset)
	if err != nil {
		return sh, say.Errorf("offset: %w", err)
	}
	sh = layout.Shield{Name: phrase.Of("shield for ") + in.For, Over: in.Over, For: in.For, Form: in.Form, OffsetMM: &offsetMM}
	if in.Emissivity != "" {
		emissivity, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(in.Emissivity), ",", ".", 1), 64)
		if err != nil || !(emissivity > 0 && emissivity <= 1) {
			return sh, say.Errorf("emissivity %q: type a number above 0 and up to 1, such as 0.15", in.Emissivity)
		}
		sh.Emissivity = &emissivity
	}
	for n := 2; s.Scene != nil; n++ {
		if _, taken := s.Scene.Index(sh.Name); !taken {
			break
		}
		sh.Name = phrase.F("shield %d for %s", n, in.For)
	}
	return sh, nil
}

// TryShield puts a shield into the scene on trial: the layout stays as it is,
// and the trial follows every change until it is kept or dropped.
func (d *Desk) TryShield(sh layout.Shield) error {
	d.mu.Lock()
	if d.doc == nil {
		d.mu.Unlock()
		return ErrNothingOpen
	}
	d.endTrial()
	d.trial = &sh
	if a := &d.answers; d.stopJob != nil && (a.Spots.Job.Running || a.Sound.Job.Running) {
		d.stopJob() // it starts anew once the shield is answered
	}
	d.poke()
	d.mu.Unlock()
	d.listener()
	return nil
}

// DropShield takes the shield on trial away.
func (d *Desk) DropShield() {
	d.mu.Lock()
	d.endTrial()
	d.poke()
	d.mu.Unlock()
	d.listener()
}

// endTrial forgets the shield on trial; the lock is held.
func (d *Desk) endTrial() {
	if d.stopJob != nil && d.answers.Shield.Job.Running {
		d.stopJob()
	}
	d.trial, d.answers.Shield = nil, Answer[shield.Trial]{Job: d.answers.Shield.Job}
}

// poke wakes the jobs.
func (d *Desk) poke() {
	select {
	case d.wake <- struct{}{}:
	default: // already woken
	}
}

// KeepShield makes the shield on trial a part of the layout, as an edit. Its
// mesh becomes a new file of the folder; undo takes it back.
func (d *Desk) KeepShield() error {
	d.mu.Lock()
	a, folder, refused := d.answers.Shield, d.folder, d.keep.refuses()
	d.mu.Unlock()
	switch {
	case folder == nil:
		return ErrNothingOpen
	case refused != nil:
		return refused
	case a.Value == nil || !a.Fresh:
		return say.Errorf("the shield on trial is still being computed: wait for its answer")
	}
	part := a.Value.Part
	var stl bytes.Buffer
	if err := a.Value.Mesh.WriteSTL(&stl, part.Name); err != nil {
		return say.Errorf("mesh of %s: %w", part.Name, err)
	}
	err := d.Edit("keep "+part.Name, func(doc *layout.Document) error {
		part.Mesh = freeFile(folder, part.Name, d.made)
		doc.Parts = append(doc.Parts, part)
		return d.makeFile(part.Mesh, stl.Bytes())
	})
	if err == nil {
		d.DropShield()
	}
	return err
}

// freeFile returns a path for a mesh that no file of the folder has.
func freeFile(folder *layout.Folder, name string, others made) string {
	word := strings.Map(func(r rune) rune {
		if r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)) {
			return unicode.ToLower(r)
		}
		return '-'
	}, name)
	path := "meshes/" + word + ".stl"
	for n := 2; ; n++ {
		if _, err := folder.Stat(path); err != nil && others[path] == nil {
			return path
		}
		path = fmt.Sprintf("meshes/%s-%d.stl", word, n)
	}
}

// shieldTask works out what the shield on trial does; a coarse answer comes
// first. The lock is held.
func (d *Desk) shieldTask(s *scene.Scene) task {
	sh, before := *d.trial, d.answers.Heat.Value
	o := balance.Options{Workers: d.workers}
	if !d.answers.Shield.Rough {
		before, o.Coarse = nil, true
	}
	return newTask(d, &d.answers.Shield, s, false, func(ctx context.Context, p geom.Progress) (*shield.Trial, error) {
		return shield.Try(ctx, s, before, &sh, o, p)
	}, func(*shield.Trial) []said { return nil })
}

// wantsShield reports whether the shield on trial still needs its answer; the
// lock is held.
func (d *Desk) wantsShield() bool { return d.trial != nil && d.answers.Shield.pending() }

// WithShield returns the state with the temperatures of the shield on trial, and
// s itself where there is none or the reader looks at the scene without it.
func WithShield(s *State, a *Attention) *State {
	t := s.Answers.Shield.Value
	if t == nil || a.Without {
		return s
	}
	with := *s
	with.Answers.Heat = Answer[balance.Result]{
		Value: t.After, Fresh: s.Answers.Shield.Fresh, Rough: s.Answers.Shield.Rough, Err: s.Answers.Shield.Err, says: s.Answers.Heat.says,
	}
	return &with
}

// ShieldSays tells of the shield on trial what TrialTable does not: how far its
// answer is, how hot the sheet itself gets, and what it crosses.
func ShieldSays(s *State) []string {
	a := &s.Answers.Shield
	switch {
	case s.Trial == nil:
		return nil
	case a.Err != nil:
		return []string{phrase.Of("On trial: ") + phrase.Err(a.Err)}
	case a.Value == nil:
		return []string{phrase.Of("Shield on trial: computing …")}
	}
	t := a.Value
	head := phrase.F("%s, over %s", t.Name, t.Over)
	if !a.Fresh {
		head += phrase.Of(": coarse, refining")
		if !a.Rough {
			head = phrase.Of("Before the last change: ") + t.Name
		}
	}
	lines := []string{head + "."}
	for _, it := range t.Itself {
		lines = append(lines, phrase.F("The shield itself in %s: %s to %s, nominal %s.", it.Case,
			units.NumberDegC(it.Temperature.LowDegC), units.FormatDegC(it.Temperature.HighDegC), units.NumberDegC(it.Temperature.NominalDegC)))
	}
	if len(t.Cuts) > 0 {
		lines = append(lines, phrase.Of("It crosses ")+strings.Join(t.Cuts, ", ")+phrase.Of(": it cannot be built like that."))
	}
	return lines
}

const (
	// othersShown is how many other parts a trial tells of.
	othersShown = 2
	// leastOtherK: other parts are told of from such a fall on.
	leastOtherK = 2
)

// TrialTable compares without and with the shield on trial: the part that it
// protects in every case, then the others that it cools most. The verdict is
// that with the shield.
func TrialTable(s *State) Table {
	out := Table{Columns: []Column{text(phrase.Of("case")), number(phrase.Of("without °C")), number(phrase.Of("with °C")), number(phrase.Of("band with")), number(phrase.Of("kW/m²"))}}
	if s.Trial == nil || s.Answers.Shield.Value == nil {
		return out
	}
	t := s.Answers.Shield.Value
	others := 0
	for i := range t.Changes {
		c := &t.Changes[i]
		where := c.Case
		if c.Part != t.For {
			where = c.Part + ", " + c.Case
			if others == othersShown || -c.ByK < leastOtherK {
				continue
			}
			others++
		}
		b, w := &c.Before, &c.After
		out.Rows = append(out.Rows, Row{
			Cells: []string{
				where, units.NumberDegC(b.Temperature.NominalDegC), units.NumberDegC(w.Temperature.NominalDegC),
				units.NumberDegC(w.Temperature.LowDegC) + " to " + units.NumberDegC(w.Temperature.HighDegC),
				units.NumberKWM2(b.IrradiationWM2) + " → " + units.NumberKWM2(w.IrradiationWM2),
			},
			Verdict: w.Verdict, Key: c.Part + "/" + c.Case,
		})
	}
	return out
}
