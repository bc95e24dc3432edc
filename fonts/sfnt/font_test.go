package sfnt

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	xsfnt "golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"tubewright/geom"
)

// outlineFaces are the embedded faces and two further test fonts.
var outlineFaces = []string{
	"../faces/Comfortaa-Light.ttf", "../faces/Quicksand-Light.ttf", "../faces/MPLUSRounded1c-Light-LatinKana.ttf",
	"../faces/PlaywriteDELA-Thin.ttf", "../faces/Vibur-Regular.ttf", "../faces/LeagueSpartan-ExtraLight.otf",
	"../faces/Jura-Light.otf", "../faces/NotoKufiArabic-ExtraLight.ttf",
	"../../testdata/fonts/Pacifico-Regular.ttf", "../../testdata/fonts/BebasNeue-Book.otf",
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func mustParse(t testing.TB, data []byte) *Font {
	t.Helper()
	f, err := Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// TestOutlinesTwoWays loads every glyph through both libraries. They may be 1
// unit apart, since x/image cuts implied points to whole units, once the shift
// that it leaves out is made good: left side bearing less xMin.
func TestOutlinesTwoWays(t *testing.T) {
	for _, path := range outlineFaces {
		data := read(t, path)
		f := mustParse(t, data)
		dir, err := readDirectory(data)
		if err != nil {
			t.Fatal(err)
		}
		worst, shifted := 0.0, 0
		for id := range f.NumGlyphs() {
			got, err := f.Outline(uint32(id))
			if err != nil {
				t.Fatalf("%s glyph %d: %v", path, id, err)
			}
			shift := bearingShift(t, dir, id)
			if shift != 0 {
				shifted++
			}
			want := frontOutline(t, f.front, id)
			d := farthest(got, want, geom.Vec{X: shift})
			if !(d <= 1) {
				t.Errorf("%s glyph %d: the two libraries are %g units apart", path, id, d)
			}
			worst = math.Max(worst, d)
		}
		t.Logf("%s: %d glyphs, %d with a bearing shift, at most %g units apart", path, f.NumGlyphs(), shifted, worst)
	}
}

// frontOutline reads a glyph through x/image, y up, without empty contours.
func frontOutline(t *testing.T, f *xsfnt.Font, id int) geom.Outline {
	t.Helper()
	segments, err := f.LoadGlyph(nil, xsfnt.GlyphIndex(id), fixed.Int26_6(f.UnitsPerEm()), nil)
	if err != nil {
		t.Fatalf("glyph %d through the front door: %v", id, err)
	}
	at := func(p fixed.Point26_6) geom.Point { return geom.Point{X: float64(p.X), Y: -float64(p.Y)} }
	var o geom.Outline
	for _, s := range segments {
		if s.Op == xsfnt.SegmentOpMoveTo {
			o = append(o, geom.Contour{Start: at(s.Args[0])})
			continue
		}
		c := &o[len(o)-1]
		switch s.Op {
		case xsfnt.SegmentOpLineTo:
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: at(s.Args[0])})
		case xsfnt.SegmentOpQuadTo:
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.QuadTo, C1: at(s.Args[0]), To: at(s.Args[1])})
		case xsfnt.SegmentOpCubeTo:
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.CubicTo, C1: at(s.Args[0]), C2: at(s.Args[1]), To: at(s.Args[2])})
		}
	}
	return withoutPoints(o)
}

// bearingShift reads lsb - xMin straight from the tables; 0 for CFF.
func bearingShift(t *testing.T, dir directory, id int) float64 {
	t.Helper()
	table := glyfTable{glyf: dir.find("glyf"), loca: dir.find("loca"), long: binary.BigEndian.Uint16(dir.find("head")[50:]) == 1}
	if table.glyf == nil {
		return 0
	}
	glyph, err := table.glyph(id)
	if err != nil {
		t.Fatal(err)
	}
	if len(glyph) == 0 {
		return 0
	}
	hmtx, long := dir.find("hmtx"), int(binary.BigEndian.Uint16(dir.find("hhea")[34:]))
	at := 4*id + 2
	if id >= long {
		at = 4*long + 2*(id-long)
	}
	int16At := func(b []byte) float64 { return float64(int16(binary.BigEndian.Uint16(b))) }
	return int16At(hmtx[at:]) - int16At(glyph[2:])
}

// farthest returns the greatest distance on either axis between matching
// points of a and b moved by d, and infinity if their pieces differ.
func farthest(a, b geom.Outline, d geom.Vec) float64 {
	worst := 0.0
	see := func(p, q geom.Point) {
		v := p.Sub(q.Add(d))
		worst = math.Max(worst, math.Max(math.Abs(v.X), math.Abs(v.Y)))
	}
	if len(a) != len(b) {
		return math.Inf(1)
	}
	for i := range a {
		if len(a[i].Curves) != len(b[i].Curves) {
			return math.Inf(1)
		}
		see(a[i].Start, b[i].Start)
		for k, p := range a[i].Curves {
			q := b[i].Curves[k]
			if p.Kind != q.Kind {
				return math.Inf(1)
			}
			see(p.To, q.To)
			if p.Kind != geom.LineTo {
				see(p.C1, q.C1)
			}
			if p.Kind == geom.CubicTo {
				see(p.C2, q.C2)
			}
		}
	}
	return worst
}

// TestWOFF2 compares files packed by fontTools with what was packed.
func TestWOFF2(t *testing.T) {
	for packed, plain := range map[string]string{
		"Vibur-Regular.woff2":            "../faces/Vibur-Regular.ttf",
		"LeagueSpartan-ExtraLight.woff2": "../faces/LeagueSpartan-ExtraLight.otf",
	} {
		f, g := mustParse(t, read(t, "../../testdata/fonts/"+packed)), mustParse(t, read(t, plain))
		if f.NumGlyphs() != g.NumGlyphs() || f.Metrics() != g.Metrics() || f.Family() != g.Family() {
			t.Fatalf("%s: %d glyphs of %q, want %d of %q", packed, f.NumGlyphs(), f.Family(), g.NumGlyphs(), g.Family())
		}
		for id := range f.NumGlyphs() {
			a, err := f.Outline(uint32(id))
			if err != nil {
				t.Fatal(err)
			}
			b, err := g.Outline(uint32(id))
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(a, b) {
				t.Errorf("%s glyph %d differs from the unpacked font", packed, id)
			}
		}
	}
}

// collection builds a TTC of n copies of a font.
func collection(font []byte, n int) []byte {
	head := append([]byte("ttcf\x00\x01\x00\x00"), binary.BigEndian.AppendUint32(nil, uint32(n))...)
	start := len(head) + 4*n
	var body []byte
	for range n {
		offset := uint32(start + len(body))
		head = binary.BigEndian.AppendUint32(head, offset)
		moved := bytes.Clone(font)
		for i := range int(binary.BigEndian.Uint16(font[4:])) {
			at := moved[12+16*i+8:]
			binary.BigEndian.PutUint32(at, binary.BigEndian.Uint32(at)+offset)
		}
		body = append(body, moved...)
	}
	return append(head, body...)
}

func TestCollectionIsItsFirstFont(t *testing.T) {
	data := read(t, "../faces/Vibur-Regular.ttf")
	one := mustParse(t, data)
	for n := 1; n <= 3; n++ {
		f := mustParse(t, collection(data, n))
		want, err := one.Shape([]rune("Rye & Salt"), Options{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := f.Shape([]rune("Rye & Salt"), Options{})
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("a collection of %d shapes otherwise than its font", n)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	vibur := read(t, "../faces/Vibur-Regular.ttf")
	overlap := bytes.Clone(vibur)
	for i := range int(binary.BigEndian.Uint16(vibur[4:])) { // every table is the whole file
		binary.BigEndian.PutUint32(overlap[12+16*i+8:], 0)
		binary.BigEndian.PutUint32(overlap[12+16*i+12:], uint32(len(vibur)))
	}
	for _, tc := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "the file is empty"},
		{"text", []byte("Rye & Salt"), "not a font: need a TTF, OTF or WOFF2 file"},
		{"a picture", []byte("\x89PNG\r\n\x1a\n0000000000"), "not a font"},
		{"WOFF 1", []byte("wOFF000000000000"), "convert the file to TTF, OTF or WOFF2"},
		{"only a signature", []byte("OTTO"), "ends inside the table directory"},
		{"cut in half", vibur[:len(vibur)/2], "past the end of the file"},
		{"overlapping tables", overlap, "the tables overlap"},
		{"too large", append(bytes.Clone(vibur), make([]byte, MaxFile)...), "at most 67108864"},
		{"empty collection", append([]byte("ttcf\x00\x01\x00\x00\x00\x00\x00\x00"), make([]byte, 16)...), "damaged: collection of 0 fonts"},
		{"huge collection", append([]byte("ttcf\x00\x01\x00\x00\xff\xff\xff\xff"), make([]byte, 16)...), "collection of 4294967295 fonts"},
		{"WOFF2 header only", []byte("wOF2"), "WOFF2: the file ends inside the header"},
		{"WOFF2 collection", append([]byte("wOF2ttcf"), make([]byte, 60)...), "convert one of its fonts"},
		{"local subroutines to the power of nine", read(t, "../../testdata/fonts/nested-local.otf"), "glyph 1 takes more than 200000 drawing operators"},
		{"global subroutines to the power of nine", read(t, "../../testdata/fonts/nested-global.otf"), "glyph 1 takes more than 200000 drawing operators"},
		{"WOFF2 with a short index", read(t, "../../testdata/fonts/short-index-overflow.woff2"), "convert the file to TTF or OTF"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			f, err := Parse(tc.data)
			if err == nil || f != nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("got %v, want an error with %q", err, tc.want)
			}
		})
	}
}

// sfntOf packs tables into an SFNT file.
func sfntOf(signature string, tables ...table) []byte {
	out := append([]byte(signature), 0, byte(len(tables)), 0, 0, 0, 0, 0, 0)
	offset := len(out) + 16*len(tables)
	var body []byte
	for _, t := range tables {
		out = append(out, t.tag...)
		out = binary.BigEndian.AppendUint32(out, 0)
		out = binary.BigEndian.AppendUint32(out, uint32(offset+len(body)))
		out = binary.BigEndian.AppendUint32(out, uint32(len(t.data)))
		body = append(body, t.data...)
	}
	return append(out, body...)
}

// glyfFont packs glyphs into the tables that the bounds on outlines read.
func glyfFont(glyphs ...[]byte) []byte {
	head, maxp := make([]byte, 54), []byte{0, 1, 0, 0, 0, byte(len(glyphs))}
	head[51] = 1 // long loca
	loca, glyf := []byte{0, 0, 0, 0}, []byte{}
	for _, g := range glyphs {
		glyf = append(glyf, g...)
		loca = binary.BigEndian.AppendUint32(loca, uint32(len(glyf)))
	}
	return sfntOf(sigTrueType, table{"head", head}, table{"maxp", maxp}, table{"loca", loca}, table{"glyf", glyf})
}

// simple is a glyph that claims n points; composite one made of n times part.
func simple(n int) []byte {
	return append(make([]byte, 10), byte((n-1)>>8), byte(n-1), 0, 0)[0:14:14]
}

func composite(part, n int) []byte {
	g := append([]byte{0xFF, 0xFF}, make([]byte, 8)...)
	for i := range n {
		more := byte(0x20)
		if i == n-1 {
			more = 0
		}
		g = append(g, 0, more, 0, byte(part), 0, 0)
	}
	return g
}

// TestOutlineBounds holds small files that ask for much. Counts are by hand:
// each glyph costs its points and 1 for itself.
func TestOutlineBounds(t *testing.T) {
	one := simple(9)
	one[1] = 1 // one contour
	many := simple(60_000)
	many[1] = 1
	for _, tc := range []struct {
		name   string
		glyphs [][]byte
		want   string // "" for accepted
	}{
		{"plain", [][]byte{one, composite(0, 3)}, ""},
		{"60,000 points in 14 bytes", [][]byte{many}, "glyph 0 has more than 50000 points"},
		{"parts to the power of six", [][]byte{one, composite(0, 20), composite(1, 20), composite(2, 20), composite(3, 20)}, "has more than 50000 points"},
		{"made of itself", [][]byte{composite(0, 1)}, "nested more than 8 deep"},
		{"made of each other", [][]byte{composite(1, 1), composite(0, 1)}, "nested more than 8 deep"},
		{"a part that is not there", [][]byte{composite(7, 1)}, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			dir, err := readDirectory(glyfFont(tc.glyphs...))
			if err != nil {
				t.Fatal(err)
			}
			err = checkGlyf(dir)
			if tc.want == "" && err != nil || tc.want != "" && (err == nil || !strings.Contains(err.Error(), tc.want)) {
				t.Errorf("got %v, want %q", err, tc.want)
			}
		})
	}
}

// TestCapHeight has the published values: the OS/2 table of each font, but for
// scripts whose H reaches below the baseline or past the cap line; there the
// bounds of H as fontTools' BoundsPen gives them.
func TestCapHeight(t *testing.T) {
	for _, tc := range []struct {
		path   string
		want   float64
		source string
	}{
		{"../faces/Comfortaa-Light.ttf", 781, "OS/2"},
		{"../faces/Quicksand-Light.ttf", 700, "OS/2"},
		{"../faces/MPLUSRounded1c-Light-LatinKana.ttf", 730, "BoundsPen 0 to 730; no OS/2 entry"},
		{"../faces/PlaywriteDELA-Thin.ttf", 952, "BoundsPen -17 to 935; OS/2 says 920"},
		{"../faces/Vibur-Regular.ttf", 1552, "BoundsPen 0 to 1552; no OS/2 entry"},
		{"../faces/LeagueSpartan-ExtraLight.otf", 1320, "OS/2"},
		{"../faces/Jura-Light.otf", 633, "OS/2"},
		{"../faces/NotoKufiArabic-ExtraLight.ttf", 714, "OS/2; the font has no H"},
		{"../../testdata/fonts/Pacifico-Regular.ttf", 884, "BoundsPen -7 to 877; OS/2 says 840"},
		{"../../testdata/fonts/BebasNeue-Book.otf", 700, "OS/2"},
	} {
		if got := mustParse(t, read(t, tc.path)).Metrics().CapHeight; math.Abs(got-tc.want) > 0.1 {
			t.Errorf("%s: cap height %g, want %g (%s)", tc.path, got, tc.want, tc.source)
		}
	}
}
