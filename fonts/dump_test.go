package fonts

import (
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"tubewright/geom"
)

// The dump is read by .ci/outside/fonts.py, which compares it with HarfBuzz
// and fontTools. Coordinates are font units: the size is one unit to the mm.
type dump struct {
	Lines []dumpLine `json:"lines"`
	Faces []dumpFace `json:"faces"`
}

type dumpLine struct {
	Face     string      `json:"face"`
	File     string      `json:"file"`
	Text     string      `json:"text"`
	Runs     []dumpRun   `json:"runs"`
	Features []string    `json:"features,omitempty"`
	Language string      `json:"language,omitempty"`
	Glyphs   []dumpGlyph `json:"glyphs,omitempty"`
}

// dumpRun is a stretch of a line as the test data states it, by hand.
type dumpRun struct {
	At        int    `json:"at"`
	Text      string `json:"text"`
	Script    string `json:"script"`
	Direction string `json:"direction"`
}

type dumpGlyph struct {
	ID       uint32        `json:"id"`
	Cluster  int           `json:"cluster"`
	Advance  float64       `json:"advance"`
	X        float64       `json:"x"` // of the origin on the line
	Y        float64       `json:"y"`
	Contours [][][]float64 `json:"contours,omitempty"` // pieces, each with its points
}

// dumpFace has every glyph of a face, each at its own origin.
type dumpFace struct {
	File   string          `json:"file"`
	Glyphs [][][][]float64 `json:"glyphs"`
}

// pieces writes each piece of each contour as x0, y0, …: two points for a
// line, three for a quadratic curve, four for a cubic.
func pieces(o geom.Outline) [][][]float64 {
	var out [][][]float64
	for _, c := range o {
		var contour [][]float64
		from := c.Start
		for _, k := range c.Curves {
			p := []float64{from.X, from.Y}
			if k.Kind != geom.LineTo {
				p = append(p, k.C1.X, k.C1.Y)
			}
			if k.Kind == geom.CubicTo {
				p = append(p, k.C2.X, k.C2.Y)
			}
			contour = append(contour, append(p, k.To.X, k.To.Y))
			from = k.To
		}
		out = append(out, contour)
	}
	return out
}

// paragraphs returns the lines of mixed text that the outside check shapes.
func paragraphs(t *testing.T) []dumpLine {
	t.Helper()
	data, err := os.ReadFile("../testdata/fonts/paragraphs.json")
	if err != nil {
		t.Fatal(err)
	}
	var p struct {
		Lines []dumpLine `json:"lines"`
	}
	if err := json.Unmarshal(data, &p); err != nil {
		t.Fatal(err)
	}
	return p.Lines
}

// TestWriteShapingDump shapes the paragraph and draws every glyph, checks that
// the dump survives being written and read, and where TUBEWRIGHT_DUMP names a
// directory, leaves it there for the outside check.
func TestWriteShapingDump(t *testing.T) {
	var d dump
	shaped := map[string]bool{}
	files := map[string]string{}
	for _, i := range Builtin() {
		files[i.Name] = i.File
	}
	for _, l := range paragraphs(t) {
		f := mustOpen(t, l.Face)
		glyphs, err := f.Shape(l.Text, ShapeOptions{Size: float64(f.Metrics().UnitsPerEm), Features: l.Features, Language: l.Language})
		if err != nil {
			t.Fatalf("%s %q: %v", l.Face, l.Text, err)
		}
		l.File = files[l.Face]
		for _, g := range glyphs {
			l.Glyphs = append(l.Glyphs, dumpGlyph{g.ID, g.Cluster, g.Advance, g.Origin.X, g.Origin.Y, pieces(g.Outline)})
		}
		shaped[l.Face] = true
		d.Lines = append(d.Lines, l)
	}
	for _, i := range Builtin() {
		if i.Kind == SingleLine {
			continue
		}
		if !shaped[i.Name] {
			t.Errorf("no line of the paragraph is set in %s", i.Name)
		}
		d.Faces = append(d.Faces, dumpFace{i.File, allOutlines(t, i.Name)})
	}
	data, err := json.Marshal(d)
	if err != nil {
		t.Fatal(err)
	}
	var back dump
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(d, back) {
		t.Error("the dump reads back different")
	}
	if dir := os.Getenv("TUBEWRIGHT_DUMP"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, "shaping.json"), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

func allOutlines(t *testing.T, face string) [][][][]float64 {
	t.Helper()
	f := mustOpen(t, face)
	out := make([][][][]float64, f.font.NumGlyphs())
	for id := range out {
		o, err := f.font.Outline(uint32(id))
		if err != nil {
			t.Fatalf("%s glyph %d: %v", face, id, err)
		}
		out[id] = pieces(o)
	}
	return out
}

func mustOpen(t testing.TB, name string) *Face {
	t.Helper()
	f, err := Open(name)
	if err != nil {
		t.Fatal(err)
	}
	return f
}
