package report

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/say"
)

// ErrModel is wrapped by every error about a model that can't be printed.
var ErrModel = say.New("report") // Read-only.

// pictureName is what a picture's file may be called. Read-only.
var pictureName = regexp.MustCompile(`^[a-z0-9][a-z0-9_-]{0,79}$`)

// Check returns the first fault that keeps m from being printed: no title,
// an unknown verdict, a number that isn't one, a picture without image or
// with a name that can't be a file.
func Check(m *Model) error {
	if m == nil || strings.TrimSpace(m.Title) == "" {
		return say.Errorf("%w: title: is empty; give the layout a title", ErrModel)
	}
	if where := badValue(reflect.ValueOf(m).Elem(), "model"); where != "" {
		return say.Errorf("%w: %s; leave an unknown number out instead", ErrModel, where)
	}
	if err := checkScene(m); err != nil {
		return err
	}
	return checkPictures(m)
}

// checkScene wants a mesh with places for each body.
func checkScene(m *Model) error {
	if m.Scene == nil {
		return nil
	}
	for i := range m.Scene.Bodies {
		o := &m.Scene.Bodies[i]
		if o.Mesh == nil {
			return say.Errorf("%w: scene: %q has no mesh; leave the part out", ErrModel, o.Name)
		}
		for _, v := range o.Mesh.Verts {
			if !geom.IsFinite(v) {
				return say.Errorf("%w: scene: %q has a corner at no place: %v", ErrModel, o.Name, v)
			}
		}
	}
	return nil
}

// checkPictures wants an image and a name of its own for each picture.
func checkPictures(m *Model) error {
	byName := map[string]*Picture{}
	for _, p := range pictures(m) {
		if len(p.PNG) == 0 || p.SizePx.X <= 0 || p.SizePx.Y <= 0 {
			return say.Errorf("%w: picture %q: has no image; leave the picture out", ErrModel, p.Name)
		}
		if !pictureName.MatchString(p.Name) {
			return say.Errorf("%w: picture %q: can't be a file name; use a-z, 0-9, - and _", ErrModel, p.Name)
		}
		if other := byName[p.Name]; other != nil && other != p {
			return say.Errorf("%w: picture %q: two pictures have this name; give each its own", ErrModel, p.Name)
		}
		byName[p.Name] = p
	}
	return nil
}

// pictures lists the pictures of m in reading order, each once.
func pictures(m *Model) []*Picture {
	var all []*Picture
	seen := map[*Picture]bool{}
	add := func(p *Picture) {
		if p != nil && !seen[p] {
			seen[p] = true
			all = append(all, p)
		}
	}
	for i := range m.Findings {
		add(m.Findings[i].Picture)
		add(m.Findings[i].Section)
	}
	if m.Drop != nil {
		add(m.Drop.Map)
		add(m.Drop.Picture)
	}
	if m.RearView != nil {
		for _, p := range m.RearView.Pictures {
			add(p)
		}
	}
	if m.Heat != nil {
		for i := range m.Heat.Cases {
			add(m.Heat.Cases[i].Picture)
			add(m.Heat.Cases[i].Irradiation)
		}
	}
	for i := range m.Spots {
		add(m.Spots[i].Picture)
		add(m.Spots[i].Best)
		add(m.Spots[i].Map)
	}
	if m.Changes != nil {
		add(m.Changes.Picture)
	}
	return all
}

// badValue walks v and says where a number isn't finite or a verdict isn't
// known; empty when all is well.
func badValue(v reflect.Value, where string) string {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			return fmt.Sprintf("%s: %v is no number to print", where, f)
		}
	case reflect.String:
		if v.Type() == reflect.TypeFor[Verdict]() && !Verdict(v.String()).known() {
			return fmt.Sprintf("%s: verdict %q is not known", where, v.String())
		}
	case reflect.Pointer:
		if !v.IsNil() && v.Type() != reflect.TypeFor[*Picture]() && v.Type() != reflect.TypeFor[*mesh.Mesh]() {
			return badValue(v.Elem(), where)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if s := badValue(v.Index(i), fmt.Sprintf("%s[%d]", where, i)); s != "" {
				return s
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if !v.Type().Field(i).IsExported() {
				continue
			}
			if s := badValue(v.Field(i), where+"."+v.Type().Field(i).Name); s != "" {
				return s
			}
		}
	}
	return ""
}
