package layout

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"aftbay/geom"
	"aftbay/geom/mesh"
	"aftbay/geom/mesh/plain"
)

// hostile is an input made to harm, or as good as, and what is said of it.
type hostile struct {
	name string
	give func(t *testing.T) error // hands it to its reader and returns the error
	want string                   // part of the message
}

// The largest that reading hostile input may allocate, in all, not at once: a
// share for the program itself, and so many times the size of the input up to
// the largest layout file. A tree takes 170 bytes for a value of two ("0,"); a
// fault takes about two thousand.
const (
	ownBytes  = 96 << 20
	perByte   = 130
	mostTimes = 24
)

// text is a layout file.
func text(s string) func(*testing.T) error {
	return func(t *testing.T) error {
		t.Helper()
		return bounded(t, len(s), func() error {
			doc, err := Decode([]byte(s), "m.json")
			if doc != nil && err != nil {
				t.Error("a document and an error")
			}
			return err
		})
	}
}

// bounded runs read and holds what it allocates against the size of its input.
func bounded(t *testing.T, sizeBytes int, read func() error) error {
	t.Helper()
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	err := read()
	runtime.ReadMemStats(&after)
	limit := uint64(ownBytes + min(perByte*sizeBytes, mostTimes*MaxDocumentBytes))
	if took := after.TotalAlloc - before.TotalAlloc; took > limit {
		t.Errorf("%d bytes of input took %d bytes of memory, more than %d", sizeBytes, took, limit)
	}
	return err
}

// head begins a good layout file that goes on with another key.
const head = `{"format":"aftbay-layout","version":1,"title":"t","parts":[],`

// with is a layout file that goes on after head.
func with(rest string) func(*testing.T) error { return text(head + rest) }

// full repeats one until the file is as large as one may be.
func full(begin, one, end string) string {
	return begin + strings.Repeat(one, (MaxDocumentBytes-len(begin)-len(end))/len(one)) + end
}

// part is a layout file with one part.
func part(keys string) func(*testing.T) error {
	return text(`{"format":"aftbay-layout","version":1,"title":"t","parts":[{"name":"a","role":"engine","mesh":"a.stl",` + keys + `}]}`)
}

// meshAt is a layout file whose only part has its mesh at a path.
func meshAt(rel string) func(*testing.T) error {
	return text(`{"format":"aftbay-layout","version":1,"title":"t","parts":[{"name":"a","role":"engine","mesh":` + rel + `}]}`)
}

func hostileTexts() []hostile {
	deep := strings.Repeat(`{"a":`, 100)
	many := func(n int, one string) string { return strings.TrimSuffix(strings.Repeat(one+",", n), ",") }
	return []hostile{
		{"no bytes", text(""), "the file ends too early"},
		{"zeros", text(strings.Repeat("\x00", 100)), "not readable as JSON"},
		{"not UTF-8", text("{\"title\":\"\xff\"}"), "the file is not UTF-8 text; save it as UTF-8"},
		{"UTF-16", text("\xff\xfe{\x00}\x00"), "the file is not UTF-8 text"},
		{"too large", text(strings.Repeat(" ", MaxDocumentBytes+1)), "the file has 16777217 bytes; a layout file has at most 16777216"},
		{"only blanks", text(strings.Repeat(" ", MaxDocumentBytes)), "the file ends too early"},
		{"lists in lists", text(strings.Repeat("[", MaxDocumentBytes)), "nested more than 32 deep"},
		{"objects in objects", text(deep), "nested more than 32 deep"},
		{"a list of numbers", text(full(head+`"x":[`, "0,", "0]}")), "more than 50000 values in one list; divide the layout"},
		{"a list of lists", text(full(head+`"x":[`, "[],", "0]}")), "more than 50000 values in one list"},
		{"parts of nothing", text(full(head[:len(head)-2], "{},", "{}]}")), "more than 50000 values in one list"},
		{"values without end", text(full(head, `"x":[`+many(4000, "0")+`],`, `"x":0}`)), "more than 1000000 values in the file; a layout holds parts and rules"},
		{"one key again and again", text(head + strings.Repeat(`"x":0,`, maxValues) + `"x":0}`), "more than 1000000 values in the file"},
		{"a million keys", text(head + keys(5000) + `}`), "more than 1000 keys in one object; check that this is a layout"},
		{"a huge key", text(full(`{"`+strings.Repeat("k", MaxDocumentBytes/2)+`":{`, `"x":0,`, `"x":0}}`)), "a key of 8388608 letters; keys are short words"},
		{"huge keys in each other", text(strings.Repeat(`{"`+strings.Repeat("k", 500_000)+`":`, 30) + "0"), "a key of 500000 letters"},
		{"a part of a million numbers", part(`"move_mm":[` + many(30_000, "0") + `]`), "30005 values in parts 0, more than 20000; divide it"},
		{"a heat of many", with(`"heat":{"cases":[` + many(8_000, `{"name":"x","notes":"y"}`) + `]}}`), "more than 20000"},
		{"every value wrong", text(bad(20)), "routes[0] \"x\", diameter_mm: the value is too small"},
		{"forty-nine thousand parts of nothing", text(`{"format":"aftbay-layout","version":1,"title":"t","parts":[` + many(49_000, "{}") + `]}`), `parts[0]: missing key "mesh"; add it`},
		{"names of nobody", text(nobody()), `joined[0][0]: no part is called "x0"`},
		{"a long text", with(`"notes":"` + strings.Repeat("x", 4<<20) + `","x":0}`), `unknown key "x"; known here:`},
		{"a long title", text(`{"format":"aftbay-layout","version":1,"parts":[],"title":"` + strings.Repeat("x", 1<<20) + `"}`), "title: the text has 1048576 letters; at most 1000 are allowed"},
		{"a long name", part(`"group":"` + strings.Repeat("x", 1<<20) + `"`), "the text has 1048576 letters; at most 200 are allowed"},
		{"a long number", part(`"mass_kg":` + strings.Repeat("9", 1<<20)), "is out of range; write a finite number"},
		{"a long fraction", part(`"mass_kg":-0.` + strings.Repeat("9", 1<<20)), "mass_kg: the value is too small"},
		{"a huge exponent", part(`"mass_kg":1e999999999`), "the number 1e999999999 is out of range"},
		{"an exponent of a million digits", part(`"mass_kg":1e` + strings.Repeat("9", 1<<20)), "is out of range"},
		{"no number", part(`"mass_kg":NaN`), "not readable as JSON: invalid character 'N'"},
		{"infinity", part(`"mass_kg":Infinity`), "not readable as JSON"},
		{"hexadecimal", part(`"mass_kg":0x10`), "not readable as JSON"},
		{"rays without end", with(`"heat":{"cases":[],"rays":1e18}}`), "heat.rays: the value is too large"},
		{"patches of nothing", with(`"heat":{"cases":[],"patch_mm":1e-300}}`), "heat.patch_mm: the value is too small"},
		{"a place beyond the world", part(`"move_mm":[1e300,0,0]`), "move_mm[0]: the value is too large"},
		{"a comment", text("{\n// x\n}"), "line 2: not readable as JSON"},
		{"two documents", text(head[:len(head)-1] + "}" + head[:len(head)-1] + "}"), "something follows the closing brace"},
		{"a script", text("<script>alert(1)</script>"), "not readable as JSON"},
		{"another format", text(`{"format":"x","version":1}`), `format: "x" is another format; a layout says "aftbay-layout"`},
		{"a format of another kind", text(`{"format":{"format":"aftbay-layout"},"version":1}`), "is another format"},
		{"a version to come", text(`{"format":"aftbay-layout","version":1e300}`), "version 1e+300 is newer than this program reads (1); open it with a newer program"},
		{"a version of old", text(`{"format":"aftbay-layout","version":-1,"title":"t","parts":[]}`), "version: -1 isn't the allowed value; write 1"},
		{"null for all", text("null"), "the file holds no object {…}"},
		{"line breaks in a name", part(`"group":"a\nb"`), `has the wrong form; leave out spaces at the ends, line breaks and control characters`},
		{"a name of zeros", part(`"group":"\u0000"`), "has the wrong form"},
		{"a command to the terminal", part(`"group":"\u009b2J"`), `group: "\u009b2J" has the wrong form`},
		{"a title that is a command", with(`"title":"\u001b[2J"}`), `title: "\x1b[2J" has the wrong form`},
		{"a key that is a command", with(`"\u001b[2J":1,"\u001b[2J":2}`), `"\x1b[2J": the key stands twice in one object`},
		{"half a letter", with(`"drop":{"group":"\ud800","range_mm":[0,1]}}`), "drop.group: no group is called \"\ufffd\""},
		{"a part named twice", text(`{"format":"aftbay-layout","version":1,"title":"t","parts":[{"name":"a","role":"x","mesh":"a.stl"},{"name":"a","role":"x","mesh":"a.stl"}]}`), `the name "a" is taken`},
		{"a key twice", with(`"notes":"a","notes":"b"}`), "notes: the key stands twice in one object; keep one of them"},
	}
}

// keys are n keys with a value each.
func keys(n int) string {
	var list []string
	for i := range n {
		list = append(list, fmt.Sprintf(`"k%d":0`, i))
	}
	return strings.Join(list, ",")
}

// bad is a file of routes in which every value is wrong.
func bad(n int) string {
	one := `{"name":"x","role":"hose","diameter_mm":0,"points_mm":[[1e9,0,0]` + strings.Repeat(`,["a",1e9,{}]`, 3000) + `]}`
	return head + `"routes":[` + strings.TrimSuffix(strings.Repeat(one+",", n), ",") + "]}"
}

// nobody is a file in which fifteen thousand names mean none of as many parts.
func nobody() string {
	var b strings.Builder
	b.WriteString(`{"format":"aftbay-layout","version":1,"title":"t","parts":[{"name":"p","role":"x","mesh":"a.stl"}`)
	for i := range 15_000 {
		fmt.Fprintf(&b, `,{"name":"p%d","role":"x","mesh":"a.stl"}`, i)
	}
	b.WriteString(`],"joined":[["x0","y0"]`)
	for i := range 15_000 {
		fmt.Fprintf(&b, `,["q%d","r%d"]`, i, i)
	}
	return b.String() + "]}"
}

func hostilePaths() []hostile {
	return []hostile{
		{"absolute", meshAt(`"/etc/passwd"`), `the path "/etc/passwd" is absolute; put the file in the layout folder`},
		{"absolute twice", meshAt(`"//etc/passwd"`), "is absolute"},
		{"drive", meshAt(`"C:/windows/win.ini"`), "is absolute"},
		{"drive without a slash", meshAt(`"C:win.ini"`), "is absolute"},
		{"another machine", meshAt(`"\\\\host\\share\\a.stl"`), "has a backslash; write it with /"},
		{"up", meshAt(`".."`), "leaves the layout folder"},
		{"up and down", meshAt(`"../a.stl"`), "leaves the layout folder"},
		{"far up", meshAt(`"a/../../../../etc/passwd"`), "leaves the layout folder"},
		{"up with a backslash", meshAt(`"..\\a.stl"`), "has a backslash"},
		{"here", meshAt(`"."`), "isn't in its plain form"},
		{"hidden up", meshAt(`"a/./../a.stl"`), "isn't in its plain form"},
		{"slash at the end", meshAt(`"a.stl/"`), "isn't in its plain form"},
		{"slash twice", meshAt(`"a//b.stl"`), "isn't in its plain form"},
		{"zero", meshAt(`"a.stl\u0000.txt"`), "has a control character; rename the file"},
		{"bell", meshAt(`"a\u0007.stl"`), "has a control character"},
		{"delete", meshAt(`"a\u007f.stl"`), "has a control character"},
		{"nothing", meshAt(`""`), "mesh: the text is empty"},
		{"the layout itself", meshAt(`"layout.json"`), "the path names the layout file itself"},
		{"the layout in capitals", meshAt(`"LAYOUT.JSON"`), "the path names the layout file itself"},
		{"the backup", meshAt(`"layout.json.bak"`), "the path names a file that the program writes"},
		{"the memory", meshAt(`"meshes.json"`), "the path names a file that the program writes"},
		{"a path of a million letters", meshAt(`"` + strings.Repeat("a/", 500_000) + `b.stl"`), "letters; at most"},
		{"table", with(`"groups":[{"name":"g","positions":"/etc/passwd"}]}`), `positions: the path "/etc/passwd" is absolute`},
		{"component", with(`"spots":[{"name":"s","mesh":"../a.stl","role":"coil","hosts":["*"]}]}`), "leaves the layout folder"},
		{"alternative", part(`"alternatives":[{"name":"b","mesh":"../a.stl"}]`), "leaves the layout folder"},
	}
}

// packedFile hands a packed layout to Open and reads its mesh.
func packedFile(entries ...entry) func(*testing.T) error {
	return func(t *testing.T) error {
		t.Helper()
		return openAll(t, archive(t, entries...))
	}
}

// openAll opens a layout and reads every file that it names.
func openAll(t *testing.T, path string) error {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return bounded(t, int(info.Size()), func() error {
		doc, f, err := Open(path)
		if err != nil {
			return err
		}
		defer f.Close()
		for _, rel := range doc.Files() {
			if _, err := f.ReadFile(rel); err != nil {
				return err
			}
		}
		return nil
	})
}

// lied packs a good layout with a mesh of a megabyte, then changes its bytes.
func lied(change func(data []byte) []byte) func(*testing.T) error {
	return func(t *testing.T) error {
		t.Helper()
		path := archive(t, goodEntry(), entry{"a.stl", strings.Repeat("a", 1<<20), 0})
		put(t, path, string(change([]byte(slurp(t, path)))))
		return openAll(t, path)
	}
}

// central is where a field of the last record of the table of contents stands:
// after the signature, offsets as in the .ZIP specification, 4.3.12.
func central(data []byte, offset int) int {
	return bytes.LastIndex(data, []byte("PK\x01\x02")) + offset
}

// declared lets the mesh's unpacked size be what it isn't.
func declared(size uint32) func([]byte) []byte {
	return func(data []byte) []byte {
		binary.LittleEndian.PutUint32(data[central(data, 24):], size)
		return data
	}
}

func goodEntry() entry {
	return entry{FileName, `{"format":"aftbay-layout","version":1,"title":"t","parts":[{"name":"a","role":"engine","mesh":"a.stl"}]}`, 0}
}

func hostileArchives() []hostile {
	good, stl := goodEntry(), entry{"a.stl", "mesh", 0}
	return []hostile{
		{"no archive", func(t *testing.T) error {
			path := filepath.Join(t.TempDir(), "x.aftbay")
			put(t, path, "not a zip")
			return openAll(t, path)
		}, "not readable as a packed layout"},
		{"nothing packed", packedFile(), "no layout.json packed in it; pack the layout folder again"},
		{"mesh missing", packedFile(good), "a.stl: there is no such file"},
		{"way out", packedFile(good, stl, entry{"../evil", "x", 0}), `packed in it: the path "../evil" leaves the layout folder`},
		{"hidden way out", packedFile(good, stl, entry{"a/../../evil", "x", 0}), "leaves the layout folder"},
		{"absolute", packedFile(good, stl, entry{"/etc/passwd", "x", 0}), "is absolute"},
		{"drive", packedFile(good, stl, entry{"C:/evil", "x", 0}), "is absolute"},
		{"backslash", packedFile(good, stl, entry{`a\..\evil`, "x", 0}), "has a backslash"},
		{"zero in a name", packedFile(good, stl, entry{"a\x00.stl", "x", 0}), "has a control character"},
		{"line break in a name", packedFile(good, stl, entry{"a\nb", "x", 0}), "has a control character"},
		{"no name", packedFile(good, stl, entry{"", "x", 0}), "the path names no file"},
		{"a folder that leaves", packedFile(good, stl, entry{"../", "", fs.ModeDir | 0o755}), "leaves the layout folder"},
		{"link", packedFile(good, entry{"a.stl", "/etc/passwd", fs.ModeSymlink | 0o777}), "packed as a link or device; pack the file itself"},
		{"pipe", packedFile(good, entry{"a.stl", "", fs.ModeNamedPipe | 0o644}), "packed as a link or device"},
		{"device", packedFile(good, entry{"a.stl", "", fs.ModeDevice | 0o644}), "packed as a link or device"},
		{"twice", packedFile(good, stl, stl), "packed twice"},
		{"twice but for capitals", packedFile(good, stl, entry{"A.STL", "other", 0}), "differs from a.stl in nothing but capitals; rename one"},
		{"two layouts but for capitals", packedFile(good, stl, entry{"Layout.JSON", "{}", 0}), "differs from layout.json in nothing but capitals"},
		{"two folders", packedFile(entry{"a/layout.json", "{}", 0}, entry{"b/layout.json", "{}", 0}), "no layout.json packed in it"},
		{"a folder for a mesh", packedFile(good, entry{"a.stl/", "", fs.ModeDir | 0o755}), "a.stl: there is no such file"},
		{"ten thousand and one", packedFile(numbered(maxPackedEntries + 1)...), "10001 files packed in it, more than 10000"},
		{"a hundred thousand", packedFile(long(30_000)...), "its table of contents takes more than 4194304 bytes; leave out"},
		{"bomb", packedFile(good, entry{"a.stl", strings.Repeat("\x00", 65<<20), 0}), "this looks made to fill the memory; ask for the plain folder"},
		{"many small bombs", packedFile(append([]entry{good}, zeros(9, 8<<20)...)...), "this looks made to fill the memory"},
		{"a huge layout file", packedFile(entry{FileName, strings.Repeat(" ", MaxDocumentBytes+1), 0}), "the file has 16777217 bytes"},
		{"more than declared", lied(declared(7)), "check the file, or pack the layout folder again"},
		{"less than declared", lied(declared(60 << 20)), "check the file, or pack the layout folder again"},
		{"half a gigabyte declared", lied(declared(MaxFileBytes)), "this looks made to fill the memory"},
		{"more declared than is read", lied(declared(1 << 30)), "unpacks to 1073741824 bytes, more than 536870912"},
		{"password", lied(func(data []byte) []byte { data[central(data, 8)] |= 1; return data }), "packed with a password; pack it without"},
		{"unknown method", lied(func(data []byte) []byte { data[central(data, 10)] = 99; return data }), "unsupported compression algorithm; check the file"},
		{"wrong checksum", lied(func(data []byte) []byte { data[central(data, 16)] ^= 1; return data }), "checksum error; check the file"},
		{"wrong place", lied(func(data []byte) []byte { data[central(data, 42)] ^= 1; return data }), "check the file"},
		{"cut short", lied(func(data []byte) []byte { return data[:len(data)-30] }), "not readable as a packed layout"},
		{"cut at the front", lied(func(data []byte) []byte { return data[500:] }), ""},
		{"fewer declared than there are", lied(func(data []byte) []byte { data[len(data)-12] = 1; return data }), "not readable as a packed layout"},
	}
}

// numbered are n empty files.
func numbered(n int) []entry {
	list := make([]entry, n)
	for i := range list {
		list[i] = entry{fmt.Sprint("f", i), "", 0}
	}
	return list
}

// long are n empty files with names of a hundred letters.
func long(n int) []entry {
	list := numbered(n)
	for i := range list {
		list[i].name += strings.Repeat("x", 100)
	}
	return list
}

func zeros(n, size int) []entry {
	list := make([]entry, n)
	for i := range list {
		list[i] = entry{fmt.Sprint("z", i), strings.Repeat("\x00", size), 0}
	}
	return list
}

// table and stl hand a text to their readers.
func table(s string) func(*testing.T) error {
	return func(t *testing.T) error {
		t.Helper()
		return bounded(t, len(s), func() error { _, err := ReadPositions([]byte(s), "p.csv"); return err })
	}
}

func stl(s string) func(*testing.T) error {
	return func(t *testing.T) error {
		t.Helper()
		return bounded(t, len(s), func() error { _, err := mesh.ReadSTL([]byte(s)); return err })
	}
}

func hostileTables() []hostile {
	facets := func(n uint32, body string) string {
		return strings.Repeat("x", 80) + string(binary.LittleEndian.AppendUint32(nil, n)) + body
	}
	return []hostile{
		{"table of nothing", table(""), "p.csv: the table is empty"},
		{"quote without end", table("name\n\"" + strings.Repeat("x", 8<<20)), `extraneous or missing " in quoted-field`},
		{"columns without end", table(strings.Repeat("x_mm,", 200_000) + "name\n"), "p.csv:1: 200001 columns"},
		{"a million lines", table("name\n" + numberedLines(50_000)), "more than 10000 load cases"},
		{"the same line", table("name\n" + strings.Repeat("a\n", 1_000_000)), `the name "a" is taken`},
		{"zeros in a name", table("name\na\x00b\n"), `has a control character or is no UTF-8`},
		{"no UTF-8", table("name\na\xff\n"), `has a control character or is no UTF-8`},
		{"a long name of a case", table("name\n" + strings.Repeat("x", 1<<20) + "\n"), "the name has 1048576 letters, more than 200"},
		{"not a number", table("name,x_mm\na,NaN\n"), `x_mm: "NaN" is no finite number; write it as 12.5`},
		{"infinity in a table", table("name,x_mm\na,-Inf\n"), `"-Inf" is no finite number`},
		{"a formula", table("name,x_mm\na,=1+1\n"), `"=1+1" is no finite number`},
		{"far away", table("name,x_mm\na,1e300\n"), `x_mm: "1e300" is too large; the most is 1e+07`},
		{"mesh of nothing", stl(""), "the file has no bytes; export the part again"},
		{"mesh of four billion facets", stl(facets(1<<32-1, strings.Repeat("\x00", 50))), "4294967295"},
		{"mesh cut short", stl(facets(2, strings.Repeat("\x00", 50))), "2"},
		{"mesh of a script", stl("solid x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 $(id)\n"), "line 4"},
		{"mesh of no numbers", stl(facets(1, strings.Repeat("\xff", 50))), ""},
	}
}

func numberedLines(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "c%d\n", i)
	}
	return b.String()
}

// TestHostileInputs: each is refused with the message given, on one line for
// one fault, and none takes more memory than its size is worth.
func TestHostileInputs(t *testing.T) {
	if racing {
		t.Skip("nothing here runs in parallel, and the race detector takes memory of its own")
	}
	count := 0
	for _, list := range [][]hostile{hostileTexts(), hostilePaths(), hostileArchives(), hostileTables()} {
		for _, c := range list {
			count++
			t.Run(c.name, func(t *testing.T) {
				err := c.give(t)
				if err == nil || !strings.Contains(err.Error(), c.want) {
					t.Fatalf("got  %.500v\nwant %s", err, c.want)
				}
				if lines := strings.Count(err.Error(), "\n"); lines > maxShown || len(err.Error()) > 30_000 {
					t.Errorf("the message has %d lines and %d letters", lines, len(err.Error()))
				}
				if strings.ContainsAny(strings.ReplaceAll(err.Error(), "\n", ""), "\x00\x07\x1b\r") {
					t.Errorf("control characters in %q", err)
				}
			})
		}
	}
	if count < 100 {
		t.Errorf("only %d inputs", count)
	}
}

// TestGoodInputs: good files of some size take no more memory than hostile ones.
func TestGoodInputs(t *testing.T) {
	if racing {
		t.Skip("as in TestHostileInputs")
	}
	var b bytes.Buffer
	if err := plain.Sheet(220, 220, func(u, v float64) geom.Vec { return geom.Vec{u * 1000, v * 1000, u * v} }).WriteSTL(&b, "sheet"); err != nil {
		t.Fatal(err)
	}
	doc, err := Decode(maximal(t), "maximal.json")
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5000 {
		one := doc.Parts[0]
		one.Name = fmt.Sprint("part ", i)
		doc.Parts = append(doc.Parts, one)
	}
	data, err := Encode(doc)
	if err != nil {
		t.Fatal(err)
	}
	for name, give := range map[string]func(*testing.T) error{
		"layout":  text(string(data)),
		"mesh":    stl(b.String()),
		"table":   table("name\n" + numberedLines(maxPositions)),
		"archive": packedFile(goodEntry(), entry{"a.stl", b.String(), 0}),
	} {
		if err := give(t); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
