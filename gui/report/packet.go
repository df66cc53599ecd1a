package report

import (
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"aftbay/geom/say"
)

// packetFile is one file of the packet.
type packetFile struct {
	path  string // below the packet's folder, with /
	write func(w io.Writer) error
}

// WritePacket writes report.pdf, report.html, findings.csv, findings.xlsx, the
// scene as scene.glb, plots/*.svg and pictures/*.png into dir, which is made when missing, and returns their paths in that order. All files
// are written in full beside their places before the first is put there, so a
// failure while writing leaves an older packet as it was. Files of other names
// are left alone.
func WritePacket(ctx context.Context, dir string, m *Model, o PDFOptions) ([]string, error) {
	if err := Check(m); err != nil {
		return nil, err
	}
	files := packetFiles(m, o)
	var staged []string
	defer func() {
		for _, temp := range staged {
			os.Remove(temp) // gone already where all went well
		}
	}()
	for _, f := range files {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		temp, err := stage(filepath.Join(dir, filepath.FromSlash(f.path)), f.write)
		if err != nil {
			return nil, say.Errorf("packet: %s: %w", f.path, err)
		}
		staged = append(staged, temp)
	}
	paths := make([]string, len(files))
	for i, f := range files {
		paths[i] = filepath.Join(dir, filepath.FromSlash(f.path))
		if err := os.Rename(staged[i], paths[i]); err != nil {
			return nil, say.Errorf("packet: %s: %w", f.path, err)
		}
	}
	return paths, nil
}

// packetFiles lists the files of a packet in the order they are returned.
func packetFiles(m *Model, o PDFOptions) []packetFile {
	files := []packetFile{
		{"report.pdf", func(w io.Writer) error { return writePDF(w, m, o) }},
		{"report.html", func(w io.Writer) error { return writeHTML(w, m) }},
		{"findings.csv", func(w io.Writer) error { return WriteCSV(w, m) }},
		{"findings.xlsx", func(w io.Writer) error { return WriteXLSX(w, m) }},
	}
	if m.Scene != nil && len(m.Scene.Bodies) > 0 {
		files = append(files, packetFile{"scene.glb", func(w io.Writer) error { return WriteGLB(w, m) }})
	}
	for i, p := range plotsOf(m) {
		files = append(files, packetFile{fmt.Sprintf("plots/plot-%02d.svg", i+1), func(w io.Writer) error { _, err := io.WriteString(w, PlotSVG(p)); return err }})
	}
	for _, p := range pictures(m) {
		files = append(files, packetFile{"pictures/" + p.Name + ".png", func(w io.Writer) error {
			_, err := w.Write(p.PNG)
			return err
		}})
	}
	return files
}

// plotsOf lists the line charts of a model in reading order.
func plotsOf(m *Model) []*Plot {
	var all []*Plot
	add := func(list []Plot) {
		for i := range list {
			all = append(all, &list[i])
		}
	}
	if m.Drop != nil {
		add(m.Drop.Plots)
	}
	if m.Heat != nil {
		for i := range m.Heat.Cases {
			add(m.Heat.Cases[i].Plots)
		}
	}
	return all
}

// stage writes a file beside path and returns its temporary name.
func stage(path string, write func(w io.Writer) error) (temp string, err error) {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return "", err
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".packet-*")
	if err != nil {
		return "", err
	}
	err = write(f)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err != nil {
		os.Remove(f.Name())
		return "", err
	}
	return f.Name(), nil
}
