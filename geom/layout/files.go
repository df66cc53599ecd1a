package layout

import "slices"

// meshRefs returns where the document names a mesh file.
func (d *Document) meshRefs() []*string {
	var list []*string
	for i := range d.Parts {
		list = append(list, &d.Parts[i].Mesh)
		for k := range d.Parts[i].Alternatives {
			list = append(list, &d.Parts[i].Alternatives[k].Mesh)
		}
	}
	for i := range d.Spots {
		list = append(list, &d.Spots[i].Mesh)
	}
	return list
}

// fileRefs returns where the document names a file.
func (d *Document) fileRefs() []*string {
	list := d.meshRefs()
	for i := range d.Groups {
		list = append(list, &d.Groups[i].Positions)
	}
	return list
}

// Files returns every file that the document names, each once, sorted.
func (d *Document) Files() []string { return namesAt(d.fileRefs()) }

// Meshes returns every mesh file that the document names, each once, sorted.
func (d *Document) Meshes() []string { return namesAt(d.meshRefs()) }

func namesAt(refs []*string) []string {
	var list []string
	for _, ref := range refs {
		if *ref != "" {
			list = append(list, *ref)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// RenameFiles changes the document in place: every file that it names gets the
// name that to returns.
func (d *Document) RenameFiles(to func(rel string) string) {
	for _, ref := range d.fileRefs() {
		if *ref != "" {
			*ref = to(*ref)
		}
	}
}
