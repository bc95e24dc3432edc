package tile_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/tile"
)

func options(size string) tile.Options {
	s, err := paper.ParseSize(size)
	if err != nil {
		panic(err)
	}
	return tile.Options{Format: paper.Format{Size: s, Margin: paper.Margin, Frame: sheet.Bench}, Overlap: tile.Overlap}
}

func layout(t testing.TB, text string, k float64, size string) tile.Layout {
	t.Helper()
	picture, box := pattern.Picture(pattern.Draw(patterntest.Word(text, 120, k)))
	l, err := tile.Lay(picture, box.Grown(4), options(size))
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// Every place where something is drawn is on a page, and neighbours share their
// overlap to the last digit.
func TestTilesCoverTheDrawing(t *testing.T) {
	for _, size := range []string{"A4", "Letter", "A3", "Tabloid", "500mm x 350mm"} {
		l := layout(t, "HEXS", 3, size)
		for _, layer := range l.Of.Layers {
			for _, g := range layer.Groups {
				for _, i := range g.Items {
					s, ok := i.(sheet.Shape)
					if !ok {
						continue
					}
					for _, p := range s.Paths {
						for _, q := range p.Samples(5) {
							if !onPage(l, q) {
								t.Fatalf("%s: %v is on no page", size, q)
							}
						}
					}
				}
			}
		}
		for _, j := range l.Joints {
			a, b := l.Tiles[j.A].Window, l.Tiles[j.B].Window
			lap := a.Max.X - b.Min.X
			if l.Tiles[j.A].Row != l.Tiles[j.B].Row {
				lap = b.Max.Y - a.Min.Y
			}
			if math.Abs(lap-tile.Overlap) > 1e-9 {
				t.Errorf("%s: joint %d overlaps by %v mm", size, j.Number, lap)
			}
		}
	}
}

func onPage(l tile.Layout, q geom.Point) bool {
	for _, t := range l.Tiles {
		if !t.Blank && t.Window.Contains(q) {
			return true
		}
	}
	return false
}

// Marks of one joint are seen whole on both its pages, names are never used twice,
// and joints side by side have different signs.
func TestMatchMarks(t *testing.T) {
	l := layout(t, "HEXSHEXS", 4, "A4")
	if len(l.Joints) < 10 {
		t.Fatalf("%d joints", len(l.Joints))
	}
	names, near := map[string]bool{}, 0
	for i, j := range l.Joints {
		if len(j.Marks) != 2 || j.Marks[0].At.Dist(j.Marks[1].At) < 20 {
			t.Fatalf("joint %d has marks %v", j.Number, j.Marks)
		}
		if j.Marks[0].At.Dist(j.Marks[1].At) < 60 {
			near++
		}
		for _, m := range j.Marks {
			if names[m.Name] {
				t.Errorf("%s stands twice", m.Name)
			}
			names[m.Name] = true
			for _, k := range []int{j.A, j.B} {
				if w := l.Tiles[k].Window.Grown(-5); !w.Contains(m.At) {
					t.Errorf("%s at %v is cut off on %s", m.Name, m.At, l.Name(l.Tiles[k]))
				}
			}
		}
		if i > 0 && j.Marks[0].Sign == l.Joints[i-1].Marks[0].Sign {
			t.Errorf("joints %d and %d have one sign", j.Number-1, j.Number)
		}
	}
	if near > len(l.Joints)/10 {
		t.Errorf("the marks of %d of %d joints stand under 60 mm apart", near, len(l.Joints))
	}
}

// A page shows of a sheet only what lies on it: all marks do, though the outer tiles
// reach beyond the drawing, and each stands where the drawing's window has its place.
func TestMatchMarksArePrinted(t *testing.T) {
	l, beyond := layout(t, "HEXSHEXS", 4, "A4"), 0
	drawing := geom.Rect{Max: geom.Point{X: l.Of.Width, Y: l.Of.Height}}
	for n, p := range l.Sheets("x") {
		picture, marks := p.Views[0], p.Views[1]
		paper := geom.Rect{Max: geom.Point{X: marks.Of.Width, Y: marks.Of.Height}}
		back := picture.Window.Min.Sub(marks.Window.Min).Add(marks.At.Sub(picture.At))
		places := map[geom.Point]bool{} // of the crosses, in the frame of the drawing, to 0.001 mm
		for _, g := range marks.Of.Layers[0].Groups {
			for _, i := range g.Items {
				box := sheet.Group{Items: []sheet.Item{i}}.Bounds()
				if !paper.Contains(box.Min) || !paper.Contains(box.Max) {
					t.Fatalf("page %d: %s at %v is not on its sheet of %v", n+1, g.ID, box, paper)
				}
				places[rounded(box.Centre().Add(back))] = true
			}
		}
		for _, j := range l.Joints {
			for _, m := range j.Marks {
				if !drawing.Contains(m.At) {
					beyond++
				}
				if !places[rounded(m.At)] {
					t.Fatalf("page %d: %s is not at %v", n+1, m.Name, m.At)
				}
			}
		}
	}
	if beyond == 0 {
		t.Error("no mark stands beyond the drawing: the test tells nothing")
	}
}

func rounded(p geom.Point) geom.Point {
	return geom.Point{X: math.Round(1e3 * p.X), Y: math.Round(1e3 * p.Y)}
}

// What stands in a blank tile is nothing: of two letters far apart the pages between
// are left out.
func TestBlankTilesAreLeftOut(t *testing.T) {
	picture, box := pattern.Picture(pattern.Draw(patterntest.Word("HH", 1500, 1)))
	l, err := tile.Lay(picture, box.Grown(4), options("A4"))
	if err != nil {
		t.Fatal(err)
	}
	blank := 0
	for _, k := range l.Tiles {
		if !k.Blank {
			continue
		}
		blank++
		for _, layer := range picture.Layers {
			for _, g := range layer.Groups {
				for _, i := range g.Items {
					if s, ok := i.(sheet.Shape); ok {
						for _, p := range s.Paths {
							for _, q := range p.Samples(1) {
								if k.Window.Contains(q) {
									t.Fatalf("%v is drawn on %s, which is left out", q, l.Name(k))
								}
							}
						}
					}
				}
			}
		}
	}
	if blank < 5 || len(l.Sheets("x")) != len(l.Tiles)-blank {
		t.Errorf("%d of %d tiles left out, %d pages", blank, len(l.Tiles), len(l.Sheets("x")))
	}
}

// The long check spans the drawing, on pages that are printed.
func TestLongCheck(t *testing.T) {
	l := layout(t, "HEXS", 3, "A4")
	if len(l.Corners) != 4 {
		t.Fatalf("%d marks", len(l.Corners))
	}
	whole := l.Region.Min.Dist(l.Region.Max)
	for _, d := range []float64{l.Corners[0].Dist(l.Corners[2]), l.Corners[1].Dist(l.Corners[3])} {
		if d < 0.6*whole {
			t.Errorf("a check of %.0f mm on a drawing of %.0f mm", d, whole)
		}
	}
	for _, c := range l.Corners {
		if !onPage(l, c) {
			t.Errorf("%v is on no page", c)
		}
	}
}

// Corrected pages are the paper's size as printed, and the rulers on them 100 mm by
// the readings.
func TestCorrection(t *testing.T) {
	o := options("A4")
	o.Format.Readings = paper.Readings{X: 99.5, Y: 100.4}
	picture, box := pattern.Picture(pattern.Draw(patterntest.Word("HE", 120, 1)))
	l, err := tile.Lay(picture, box.Grown(4), o)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range l.Sheets("x") {
		x, y := p.Stretch.Factors()
		// A printer that makes 99.5 mm of 100 makes 100 of 100/99.5 times 100.
		if math.Abs(x*99.5-100) > 1e-9 || math.Abs(y*100.4-100) > 1e-9 {
			t.Fatalf("factors %v and %v", x, y)
		}
		w, h := p.Width*x, p.Height*y
		if math.Abs(min(w, h)-210) > 1e-9 || math.Abs(max(w, h)-297) > 1e-9 {
			t.Errorf("paper of %v by %v mm", w, h)
		}
		said := false
		for _, layer := range p.Layers {
			for _, g := range layer.Groups {
				for _, i := range g.Items {
					if s, ok := i.(sheet.Text); ok && strings.Contains(s.Text, "Corrected for the printer") {
						said = true
					}
				}
			}
		}
		if !said {
			t.Error("a corrected page does not say so")
		}
	}
}

// Text on a page touches neither text nor the glass it shows, but for the labels of
// the drawing that its edge cuts.
func TestTextOnPagesStandsClear(t *testing.T) {
	for _, text := range []string{"HE", "SEXH"} {
		l := layout(t, text, 1.5, "A4")
		for _, p := range l.Sheets("Tiles") {
			var words []sheet.Text
			for _, layer := range p.Layers {
				for _, g := range layer.Groups {
					for _, i := range g.Items {
						if s, ok := i.(sheet.Text); ok {
							words = append(words, s)
						}
					}
				}
			}
			view := geom.Rect{Min: p.Views[0].At, Max: p.Views[0].At.Add(geom.Vec{X: p.Views[0].Window.Width(), Y: p.Views[0].Window.Height()})}
			for i, a := range words {
				if a.Bounds().Overlaps(view) {
					t.Errorf("%s: %q stands in the drawing", p.Label, a.Text)
				}
				for _, b := range words[:i] {
					if a.Bounds().Overlaps(b.Bounds()) {
						t.Errorf("%s: %q over %q", p.Label, a.Text, b.Text)
					}
				}
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	picture, box := pattern.Picture(pattern.Draw(patterntest.Word("H", 120, 1)))
	o := options("A4")
	o.Overlap = 5
	if _, err := tile.Lay(picture, box, o); err == nil || !strings.Contains(err.Error(), "overlap of 5 mm") {
		t.Errorf("a small overlap: %v", err)
	}
	o = options("A4")
	o.Format.Margin = 50
	if _, err := tile.Lay(picture, box, o); err == nil || !strings.Contains(err.Error(), "110 mm") {
		t.Errorf("wide margins: %v", err)
	}
	far := geom.Rect{Max: geom.Point{X: 1e6, Y: 1e6}}
	if _, err := tile.Lay(picture, far, options("A4")); err == nil || !strings.Contains(err.Error(), "larger paper") {
		t.Errorf("a kilometre: %v", err)
	}
	for _, bad := range []string{"A9", "10mm x 20mm", "3x4", ""} {
		if _, err := paper.ParseSize(bad); err == nil {
			t.Errorf("paper %q is taken", bad)
		}
	}
	for _, bad := range []string{"94mm", "106mm", "99", "x"} {
		if _, err := paper.ParseReading(bad); err == nil {
			t.Errorf("reading %q is taken", bad)
		}
	}
}

func book(t testing.TB, text string) sheet.Book {
	l := layout(t, text, 1, "A4")
	return sheet.Book{Title: "tiles", Pages: l.Sheets("Tiles")}
}

func TestSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := pdf.EncodePages(w, book(t, "HEXS")); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two runs differ")
	}
}

func BenchmarkTilesOfTenLetters(b *testing.B) { benchmark(b, "HEXSHEXSHE") }

func BenchmarkTilesOfAHundredLetters(b *testing.B) { benchmark(b, strings.Repeat("HEXS", 25)) }

func benchmark(b *testing.B, text string) {
	drawn := pattern.Draw(patterntest.Word(text, 40, 1))
	picture, box := pattern.Picture(drawn)
	b.ReportAllocs()
	for b.Loop() {
		l, err := tile.Lay(picture, box.Grown(4), options("A4"))
		if err != nil {
			b.Fatal(err)
		}
		var w bytes.Buffer
		if err := pdf.EncodePages(&w, sheet.Book{Title: "tiles", Pages: l.Sheets("Tiles")}); err != nil {
			b.Fatal(err)
		}
	}
}

// Where glass runs all along a joint its marks are named on both pages all the same,
// beyond the strip that both show, and no name lies over ink or leaves its page.
func TestMarksUnderGlassHaveNames(t *testing.T) {
	o := options("A4")
	wide, high := o.WindowSize()
	// A tube's edges up the middle of the strip between two pages.
	of := &sheet.Sheet{Width: 2*wide - tile.Overlap, Height: high}
	x := wide - tile.Overlap/2
	var tube sheet.Shape
	tube.Pen = sheet.Pen{Width: 0.35, Colour: sheet.Grey(0)}
	for _, dx := range []float64{-6, 0, 6} {
		tube.Paths = append(tube.Paths, sheet.Polyline(geom.Point{X: x + dx}, geom.Point{X: x + dx, Y: high}))
	}
	far := sheet.Shape{Pen: tube.Pen, Paths: []geom.Path{sheet.Polyline(geom.Point{X: 10, Y: 10}, geom.Point{X: of.Width - 10, Y: 10})}}
	of.Layers = []sheet.Layer{{ID: "glass", Groups: []sheet.Group{{ID: "U1", Items: []sheet.Item{tube, far}}}}}
	l, err := tile.Lay(of, geom.Rect{Max: geom.Point{X: of.Width, Y: of.Height}}, o)
	if err != nil || len(l.Joints) != 1 {
		t.Fatalf("%d joints, %v", len(l.Joints), err)
	}
	for _, m := range l.Joints[0].Marks {
		if len(m.Names) != 2 {
			t.Fatalf("%s has %d names", m.Name, len(m.Names))
		}
		for k, v := range m.Names {
			at := m.At.Add(v)
			if math.Abs(at.X-x) < 9 || at.Y < 13 {
				t.Errorf("%s stands on the glass, at %v", m.Name, at)
			}
			on := 0
			for _, w := range l.Tiles {
				if w.Window.Grown(-3).Contains(at) {
					on++
				}
			}
			if on != 1 {
				t.Errorf("name %d of %s is on %d pages", k, m.Name, on)
			}
		}
		if m.Names[0].X*m.Names[1].X >= 0 {
			t.Errorf("both names of %s are on one side", m.Name)
		}
	}
}
