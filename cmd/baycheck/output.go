package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"aftbay/geom/disk"
	"aftbay/gui/desk"
)

// give writes the result where the call wants it: JSON, CSV, or a table.
func (c *call) give(result any, tables ...desk.Table) error {
	if c.json != "" {
		data, err := c.encode(result)
		if err != nil {
			return err
		}
		if err := c.write(c.json, func(w io.Writer) error { _, err := w.Write(data); return err }); err != nil {
			return err
		}
	}
	if c.csv != "" && len(tables) > 0 {
		if err := c.write(c.csv, tables[0].WriteCSV); err != nil {
			return err
		}
	}
	if c.json == "" && c.csv == "" && !c.quiet {
		for _, t := range tables {
			if err := t.WriteText(c.stdout); err != nil {
				return err
			}
		}
	}
	return nil
}

// encode returns the result as indented JSON, with the timing if asked for.
func (c *call) encode(result any) ([]byte, error) {
	data, err := json.Marshal(result)
	if err != nil {
		return nil, fmt.Errorf("%s: result: %w", c.verb.name, err)
	}
	if c.timing {
		ms := func(d time.Duration) float64 { return float64(d.Microseconds()) / 1000 }
		timing, err := json.Marshal(map[string]float64{"read": ms(c.readTook), "build": ms(c.buildTook), "solve": ms(c.solveTook)})
		if err != nil {
			return nil, err
		}
		data = append(append(data[:len(data)-1], `,"timing_ms":`...), append(timing, '}')...)
	}
	var out bytes.Buffer
	if err := json.Indent(&out, data, "", " "); err != nil {
		return nil, err
	}
	out.WriteByte('\n')
	return out.Bytes(), nil
}

// write puts a file in place only when it is whole; "-" is standard output. A
// link is followed; what is no plain file, such as a pipe, is written to as it is.
func (c *call) write(path string, fill func(io.Writer) error) error {
	if path == "-" {
		return fill(c.stdout)
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	if info, err := os.Stat(path); err == nil && !info.Mode().IsRegular() && !info.IsDir() {
		f, err := os.OpenFile(path, os.O_WRONLY, 0)
		if err != nil {
			return fmt.Errorf("%s: cannot write there: %w", path, err)
		}
		return errors.Join(fill(f), f.Close())
	}
	d, err := disk.At(filepath.Dir(path))
	if err != nil {
		return fmt.Errorf("%s: cannot write there: %w", path, err)
	}
	err = disk.ReplaceWith(d, filepath.Base(path), disk.Options{}, fill)
	return errors.Join(err, d.Close())
}
