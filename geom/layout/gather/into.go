package gather

import (
	"context"
	"errors"
	"path"

	"aftbay/geom/disk"
	"aftbay/geom/layout"
	"aftbay/geom/say"
)

// Into brings the meshes of the proposal into the folder of a layout that is
// open and returns the parts to add to its document. Names and files that are
// taken there get numbers; meshes that lie in the folder already stay where
// they are. Nothing that is there is written over.
func (p *Proposal) Into(ctx context.Context, doc *layout.Document, folder *layout.Folder) ([]layout.Part, error) {
	names, files := taken{}, taken{}
	for i := range doc.Parts {
		names[fold(doc.Parts[i].Name)] = 1
	}
	for i := range doc.Routes {
		names[fold(doc.Routes[i].Name)] = 1
	}
	for _, rel := range doc.Files() {
		files[fold(rel)] = 1
	}
	var out []layout.Part
	for i := range p.Parts {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		part := &p.Parts[i]
		rel, err := part.addTo(folder, files)
		if err != nil {
			return nil, err
		}
		one := layout.Part{Name: names.unique(part.Name, " ", ""), Role: part.Role, Mesh: rel}
		if part.Unit != "mm" {
			one.MeshUnit = part.Unit
		}
		out = append(out, one)
	}
	return out, nil
}

// addTo brings one mesh into a folder under a name that is free and returns it.
func (p *Part) addTo(folder *layout.Folder, files taken) (string, error) {
	if rel, ok := p.below(folder.Path()); ok && !folder.Packed() {
		return rel, nil
	}
	data, err := p.content()
	if err != nil {
		return "", err
	}
	for {
		rel := files.unique(path.Join(meshDir, fileOf(p.at.rel)), "-", ".stl")
		if _, is, err := folder.ReadPrinted(rel); err == nil && is == p.print {
			return rel, nil // the very same file
		}
		if _, err := folder.Stat(rel); err == nil {
			continue
		}
		return rel, folder.Add(rel, data)
	}
}

// content reads the file again and makes sure that it is what was looked at.
func (p *Part) content() ([]byte, error) {
	from, err := disk.At(p.at.dir)
	if err != nil {
		return nil, err
	}
	data, err := disk.Read(from, p.at.rel, layout.MaxFileBytes)
	if err := errors.Join(err, from.Close()); err != nil {
		return nil, err
	}
	if layout.PrintOf(data) != p.print {
		return nil, layout.Fault{Where: p.From, What: say.Of("the file has changed since it was looked at"), Mend: say.Of("look at the files again")}
	}
	return data, nil
}
