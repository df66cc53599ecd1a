package gather

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// How much is looked through: a folder of a whole car has some thousand files.
const (
	MaxFiles = 10_000
	MaxDepth = 8
)

// place is a file below a folder.
type place struct{ dir, rel string }

func (p place) path() string { return filepath.Join(p.dir, filepath.FromSlash(p.rel)) }

// find lists the STL files in paths, in their order, each once.
func find(paths []string) ([]place, []Left, error) {
	s := search{seen: map[string]bool{}}
	for _, p := range paths {
		info, err := os.Stat(p)
		switch {
		case err != nil:
			return nil, nil, layout.Fault{Where: p, What: say.Of("there is no such file or folder"), Mend: say.Of("check the name")}
		case info.IsDir():
			err = s.folder(p)
		case !isSTL(p):
			s.left = append(s.left, Left{p, say.Of("no STL file: export it as STL")})
		default:
			err = s.add(place{filepath.Dir(p), filepath.Base(p)})
		}
		if err != nil {
			return nil, nil, err
		}
	}
	return s.found, s.left, nil
}

// search is what was found so far.
type search struct {
	found []place
	left  []Left
	seen  map[string]bool
}

func (s *search) add(p place) error {
	full, err := filepath.Abs(p.path())
	if err != nil || s.seen[full] {
		return err
	}
	s.seen[full] = true
	if s.found = append(s.found, p); len(s.found) > MaxFiles {
		return layout.Fault{Where: p.dir, What: say.F("more than %d STL files", MaxFiles), Mend: say.Of("give the folder that holds the parts of this layout alone")}
	}
	return nil
}

// folder walks through a folder without leaving it.
func (s *search) folder(dir string) error {
	d, err := disk.At(dir)
	if err != nil {
		return err
	}
	defer d.Close()
	return s.walk(d, dir, ".", 0)
}

func (s *search) walk(d disk.Disk, dir, at string, depth int) error {
	list, err := d.ReadDir(at)
	if err != nil {
		return layout.Fault{Where: filepath.Join(dir, at), What: say.Of("the folder can't be read"), Mend: say.Of("ask for the permission")}
	}
	for _, e := range list {
		rel := path.Join(at, e.Name())
		switch {
		case strings.HasPrefix(e.Name(), ".") || e.Name() == "__MACOSX":
		case e.IsDir() && depth >= MaxDepth:
			s.left = append(s.left, Left{filepath.Join(dir, rel), say.F("more than %d folders deep", MaxDepth)})
		case e.IsDir():
			if err := s.walk(d, dir, rel, depth+1); err != nil {
				return err
			}
		case !isSTL(rel):
		case e.Type()&fs.ModeSymlink != 0:
			s.left = append(s.left, Left{filepath.Join(dir, rel), say.Of("a link: put the file itself there")})
		case !e.Type().IsRegular():
			s.left = append(s.left, Left{filepath.Join(dir, rel), say.Of("no plain file")})
		default:
			if err := s.add(place{dir, rel}); err != nil {
				return err
			}
		}
	}
	return nil
}

func isSTL(p string) bool { return strings.EqualFold(filepath.Ext(p), ".stl") }
