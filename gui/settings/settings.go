package settings

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"aftbay/geom/disk"
	"aftbay/geom/say"
)

// Settings is all that is remembered. The zero value is a first start.
type Settings struct {
	WidthPx    int      `json:"window_width,omitempty"` // in the toolkit's points, as HeightPx
	HeightPx   int      `json:"window_height,omitempty"`
	Drawer     *Share   `json:"drawer_share,omitempty"` // of the window's width
	Scene      *Share   `json:"scene_share,omitempty"`  // of what the drawer leaves
	Look       string   `json:"look,omitempty"`
	Recent     []string `json:"recent,omitempty"` // layouts, the last one first
	LastFolder string   `json:"last_folder,omitempty"`
	TourSeen   bool     `json:"tour_seen,omitempty"` // the first-run tour was seen or skipped
	Views      []View   `json:"views,omitempty"`     // of layouts, the last one first

	others map[string]json.RawMessage // keys of other versions
}

// Share is a part of a width, 0..1.
type Share float32

// mostRecent is how many layouts are remembered. Common practice, no source.
const mostRecent = 10

// maxBytes is the largest file that is read.
const maxBytes = 1 << 20

// FileName is the name of the file in its folder.
const FileName = "settings.json"

// Folder returns where the settings of this user are kept.
func Folder() (string, error) {
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", say.Errorf("settings: %w", err)
	}
	return filepath.Join(dir, "aftbay"), nil
}

// Load returns the settings kept in a folder. Whatever is wrong with them, what
// can be read is returned, with an error to tell.
func Load(dir string) (Settings, error) {
	var s Settings
	root, err := disk.At(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, err
	}
	defer root.Close()
	return read(root)
}

func read(d disk.Disk) (Settings, error) {
	var s Settings
	data, err := disk.Read(d, FileName, maxBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, err
	}
	if err := json.Unmarshal(data, &s.others); err != nil {
		return Settings{}, say.Errorf("%s is damaged and is started anew: %w", FileName, err)
	}
	var wrong error
	for key, to := range s.keys() {
		if value, given := s.others[key]; given {
			if err := json.Unmarshal(value, to); err != nil {
				wrong = errors.Join(wrong, say.Errorf("%s: %s: %w", FileName, key, err))
			}
		}
		delete(s.others, key)
	}
	s.mend()
	return s, wrong
}

// keys returns where each key of this version is read to.
func (s *Settings) keys() map[string]any {
	return map[string]any{
		"window_width": &s.WidthPx, "window_height": &s.HeightPx,
		"drawer_share": &s.Drawer, "scene_share": &s.Scene, "look": &s.Look,
		"recent": &s.Recent, "last_folder": &s.LastFolder, "tour_seen": &s.TourSeen,
		"views": &s.Views,
	}
}

// The window's size is kept within what a screen can show.
const (
	leastPx = 200
	mostPx  = 20000
)

// mend drops values that no window can have.
func (s *Settings) mend() {
	if s.WidthPx < leastPx || s.HeightPx < leastPx || s.WidthPx > mostPx || s.HeightPx > mostPx {
		s.WidthPx, s.HeightPx = 0, 0
	}
	for _, share := range []**Share{&s.Drawer, &s.Scene} {
		if *share != nil && !(**share >= 0.02 && **share <= 0.98) {
			*share = nil
		}
	}
	s.Recent = slices.DeleteFunc(s.Recent, func(path string) bool { return path == "" })
	s.Recent = s.Recent[:min(len(s.Recent), mostRecent)]
	s.Views = slices.DeleteFunc(s.Views, func(v View) bool { return v.Layout == "" })
	s.Views = s.Views[:min(len(s.Views), mostViews)]
	for i := range s.Views {
		s.Views[i].mend()
	}
}

// Opened puts a layout first among the recent ones.
func (s *Settings) Opened(path string) {
	if full, err := filepath.Abs(path); err == nil {
		path = full
	}
	s.Recent = slices.DeleteFunc(slices.Clone(s.Recent), func(old string) bool { return old == path })
	s.Recent = slices.Insert(s.Recent, 0, path)
	s.Recent = s.Recent[:min(len(s.Recent), mostRecent)]
	s.LastFolder = filepath.Dir(path)
}

// Change reads the settings of a folder, which is made if need be, changes them
// and writes them back, so that two windows do not undo each other's.
func Change(dir string, change func(s *Settings)) error {
	root, err := disk.Make(dir)
	if err != nil {
		return err
	}
	s, _ := read(root) // damaged ones start anew; the old file is kept beside
	change(&s)
	return errors.Join(s.write(root), root.Close())
}

func (s *Settings) write(d disk.Disk) error {
	own, err := json.Marshal(s)
	if err != nil {
		return say.Errorf("settings: %w", err)
	}
	all := map[string]json.RawMessage{}
	for key, value := range s.others {
		all[key] = value
	}
	if err := json.Unmarshal(own, &all); err != nil {
		return say.Errorf("settings: %w", err)
	}
	data, err := json.MarshalIndent(all, "", "  ")
	if err != nil {
		return say.Errorf("settings: %w", err)
	}
	return disk.Replace(d, FileName, append(data, '\n'), disk.Options{Backup: FileName + ".bak", Perm: 0o600})
}
