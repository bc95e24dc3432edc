package main

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
)

func traceOf(t *testing.T, settings ...string) traced {
	t.Helper()
	j := jobOf(t, settings...)
	face, err := openFace(j.Font)
	if err != nil {
		t.Fatal(err)
	}
	tr, err := traceText(j, face)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// samePaths reports whether each path of a, mapped, runs with the path of b.
func samePaths(a, b []geom.Path, m geom.SimilarityMap, tol float64) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		p := a[i].Map(m)
		if math.Abs(p.Length()-b[i].Length()) > tol || p.Start().Dist(b[i].Start()) > tol || p.End().Dist(b[i].End()) > tol {
			return false
		}
	}
	return true
}

// Equal letters have equal strokes wherever they stand.
func TestEqualLettersAreTracedEqually(t *testing.T) {
	g := traceOf(t, "text", "SOS", "font", "comfortaa-light").glyphs
	move := geom.SimilarityMap{Scale: 1, Move: g[2].origin.Sub(g[0].origin)}
	if !samePaths(g[0].strokes, g[2].strokes, move, 1e-9) {
		t.Errorf("the two letters S differ")
	}
	if samePaths(g[0].strokes, g[1].strokes, geom.SimilarityMap{Scale: 1}, 1e-9) {
		t.Errorf("S and O are traced alike")
	}
}

// The capital H of the drawing is as high as asked: its stems run from the
// baseline to the height, in a face of flat ends.
func TestTraceHasTheHeightAskedFor(t *testing.T) {
	g := traceOf(t, "text", "H", "font", "league-spartan-extralight", "height", "200mm").glyphs
	box := geom.EmptyRect()
	for _, s := range g[0].strokes {
		box = box.Union(s.Bounds())
	}
	if math.Abs(box.Min.Y) > 0.5 || math.Abs(box.Max.Y-200) > 0.5 {
		t.Errorf("the strokes reach from y = %.2f to %.2f", box.Min.Y, box.Max.Y)
	}
}

// In a single-line face the data's own strokes come out untouched.
func TestSingleLineStrokesAreUsedAsTheyAre(t *testing.T) {
	g := traceOf(t, "text", "L", "font", "futural", "height", "210mm").glyphs
	if len(g) != 1 || len(g[0].strokes) == 0 || len(g[0].found.Junctions) != 0 {
		t.Fatalf("got %+v", g)
	}
	for _, s := range g[0].strokes {
		for _, seg := range s.Segments {
			if _, ok := seg.(geom.Line); !ok {
				t.Errorf("a segment of the data became a %T", seg)
			}
		}
	}
}

// trace.json holds what result-format.md of the project's notes says, and
// leads back to the font's own units.
func TestTraceJSON(t *testing.T) {
	tr := traceOf(t, "text", "AT", "font", "comfortaa-light", "height", "140mm")
	var b bytes.Buffer
	if err := tr.writeJSON(&b); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Format     string  `json:"format"`
		Unit       string  `json:"length_unit"`
		Frame      string  `json:"frame"`
		UnitsPerEm float64 `json:"units_per_em"`
		Scale      float64 `json:"mm_per_em_unit"`
		Glyphs     []glyphEntry
	}
	dec := json.NewDecoder(&b)
	if err := dec.Decode(&got); err != nil {
		t.Fatal(err)
	}
	if got.Format != "tubewright.trace/1" || got.Unit != "mm" || got.Frame != "front" {
		t.Errorf("head %+v", got)
	}
	// Comfortaa's em has 1,000 units and its capitals are 779 of them high (its OS/2 table).
	if got.UnitsPerEm != 1000 || math.Abs(got.Scale*779-140) > 0.5 {
		t.Errorf("%v units an em, %v mm each", got.UnitsPerEm, got.Scale)
	}
	if len(got.Glyphs) != 2 || got.Glyphs[0].Text != "A" || got.Glyphs[1].Text != "T" {
		t.Fatalf("glyphs %+v", got.Glyphs)
	}
	if len(got.Glyphs[0].Junctions) != 2 || len(got.Glyphs[1].Junctions) != 1 {
		t.Errorf("A has %d junctions, T %d; want 2 and 1", len(got.Glyphs[0].Junctions), len(got.Glyphs[1].Junctions))
	}
	for _, g := range got.Glyphs {
		for _, s := range g.Strokes {
			for i := 1; i < len(s.Path); i++ {
				if a, b := s.Path[i-1].To, s.Path[i].From; math.Hypot(float64(a[0]-b[0]), float64(a[1]-b[1])) > 1e-6 {
					t.Errorf("%s: segments %d and %d do not meet", s.ID, i-1, i)
				}
			}
		}
	}
}

func TestTraceSVGIsWellFormed(t *testing.T) {
	var b bytes.Buffer
	if err := traceOf(t, "text", "R&<\n8").writeSVG(&b); err != nil {
		t.Fatal(err)
	}
	paths := 0
	for dec := xml.NewDecoder(&b); ; {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := tok.(xml.StartElement); ok && e.Name.Local == "path" {
			paths++
		}
	}
	if paths < 8 {
		t.Errorf("%d paths for four letters, their strokes and marks", paths)
	}
}

// A letter with an accent is the same letter however it is coded: composed
// (U+00E9) or as a base with a mark (U+0065 U+0301).
func TestAccentsAreTracedAlike(t *testing.T) {
	a := traceOf(t, "text", "\u00e9", "font", "jura-light").glyphs
	b := traceOf(t, "text", "e\u0301", "font", "jura-light").glyphs
	if len(a) != 1 || len(b) != 1 || !samePaths(a[0].strokes, b[0].strokes, geom.SimilarityMap{Scale: 1}, 1e-9) {
		t.Errorf("%d and %d glyphs, or different strokes", len(a), len(b))
	}
	if b[0].text != "e\u0301" {
		t.Errorf("the glyph stands for %q, not for what was typed", b[0].text)
	}
}

// Right-to-left text stands on the wall from right to left: its first letter
// is furthest right.
func TestRightToLeftIsTracedAsItReads(t *testing.T) {
	g := traceOf(t, "text", "دار", "font", "noto-kufi-arabic-extralight").glyphs
	if len(g) != 3 || g[0].text != "ر" || g[2].text != "د" || g[0].origin.X >= g[2].origin.X {
		t.Errorf("got %d glyphs, %q at %v first", len(g), g[0].text, g[0].origin)
	}
}

// An artwork drawn with the outlines of a text has the centrelines of the text.
func TestArtworkOfATextIsTheText(t *testing.T) {
	text := traceOf(t, "text", "H", "font", "jura-light", "height", "100mm").glyphs[0]
	var d strings.Builder
	for _, c := range text.outline {
		fmt.Fprintf(&d, "M%v %v", c.Start.X, -c.Start.Y)
		for _, k := range c.Curves {
			switch k.Kind {
			case geom.LineTo:
				fmt.Fprintf(&d, "L%v %v", k.To.X, -k.To.Y)
			case geom.QuadTo:
				fmt.Fprintf(&d, "Q%v %v %v %v", k.C1.X, -k.C1.Y, k.To.X, -k.To.Y)
			case geom.CubicTo:
				fmt.Fprintf(&d, "C%v %v %v %v %v %v", k.C1.X, -k.C1.Y, k.C2.X, -k.C2.Y, k.To.X, -k.To.Y)
			}
		}
		d.WriteString("Z")
	}
	name := filepath.Join(t.TempDir(), "h.svg")
	file := fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" viewBox="0 0 100 100"><path d="%s"/></svg>`, d.String())
	if err := os.WriteFile(name, []byte(file), 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := traceArtwork(name, job.Value{}, job.Value{})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.glyphs) != 1 || len(got.glyphs[0].strokes) != len(text.strokes) {
		t.Fatalf("%d pieces", len(got.glyphs))
	}
	box := geom.EmptyRect()
	for _, s := range got.glyphs[0].strokes {
		box = box.Union(s.Map(geom.SimilarityMap{Scale: 1, Move: geom.Vec{X: text.outline.ControlBox().Min.X, Y: text.outline.ControlBox().Min.Y}}).Bounds())
		if math.Abs(s.Length()-text.strokes[0].Length()) > 0.1 && math.Abs(s.Length()-text.strokes[1].Length()) > 0.1 && math.Abs(s.Length()-text.strokes[2].Length()) > 0.1 {
			t.Errorf("a stroke of %.2f mm", s.Length())
		}
	}
	own := geom.EmptyRect()
	for _, s := range text.strokes {
		own = own.Union(s.Bounds())
	}
	if box.Min.Dist(own.Min) > 0.1 || box.Max.Dist(own.Max) > 0.1 {
		t.Errorf("box %v, the text's %v", box, own)
	}
}
