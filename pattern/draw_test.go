package pattern_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/finding"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/sheet/svg"
	"tubewright/pattern/tube"
	"tubewright/pattern/words"
)

func drawings() map[string]pattern.Pattern {
	return map[string]pattern.Pattern{
		"a word":            patterntest.Word("HEXS", 40, 1),
		"one small letter":  patterntest.Word("E", 40, 80.0/150),
		"letters close by":  patterntest.Word("XXHEEH", 19, 1),
		"with findings":     patterntest.WithFindings(patterntest.Word("HE", 40, 1)),
		"six metres":        patterntest.Word("HEXSHEXSHEXSHE", 200, 3),
		"forty small units": patterntest.Word(strings.Repeat("SEXH", 10), 20, 0.5),
		"nothing":           {Spec: patterntest.Word("H", 40, 1).Spec},
	}
}

// origin reads from the sheet's own words where front (0, 0) stands.
func origin(t *testing.T, s *sheet.Sheet) (x0, y0 float64) {
	t.Helper()
	_, rest, ok := strings.Cut(s.Description, "is at (")
	if _, err := fmt.Sscanf(rest, "%g - x, %g + y)", &x0, &y0); !ok || err != nil {
		t.Fatalf("the description does not tell the frame: %q", s.Description)
	}
	return x0, y0
}

// glassOf returns places on the centrelines of a pattern as they lie on its sheet,
// worked out here from the frame in the sheet's description alone.
func glassOf(t *testing.T, p pattern.Pattern, s *sheet.Sheet, step float64) [][]geom.Point {
	t.Helper()
	x0, y0 := origin(t, s)
	var out [][]geom.Point
	for _, u := range p.Units {
		var pts []geom.Point
		for _, piece := range u.Tube {
			n := max(1, int(math.Ceil(piece.Seg.Length()/step)))
			for k := 0; k <= n; k++ {
				q := piece.Seg.PointAt(piece.Seg.Length() * float64(k) / float64(n))
				pts = append(pts, geom.Point{X: x0 - q.X, Y: y0 + q.Y})
			}
		}
		out = append(out, pts)
	}
	return out
}

func eachItem(s *sheet.Sheet, f func(layer, group string, i sheet.Item)) {
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				f(l.ID, g.ID, i)
			}
		}
	}
}

func texts(s *sheet.Sheet) []sheet.Text {
	var out []sheet.Text
	eachItem(s, func(_, _ string, i sheet.Item) {
		if t, ok := i.(sheet.Text); ok {
			out = append(out, t)
		}
	})
	return out
}

func TestTextStandsClearOfGlassAndText(t *testing.T) {
	for name, p := range drawings() {
		s := pattern.Draw(p)
		words := texts(s)
		overlaps, over := 0, 0
		for i, a := range words {
			for _, b := range words[:i] {
				if a.Bounds().Overlaps(b.Bounds()) {
					overlaps++
					t.Logf("%s: %q over %q", name, a.Text, b.Text)
				}
			}
		}
		for _, pts := range glassOf(t, p, s, 1) {
			for _, q := range pts {
				for _, w := range words {
					b := w.Bounds()
					near := geom.Point{X: min(max(q.X, b.Min.X), b.Max.X), Y: min(max(q.Y, b.Min.Y), b.Max.Y)}
					if near.Dist(q) < p.Spec.Rules.Diameter/2 {
						over++
						t.Logf("%s: %q over glass at %v", name, w.Text, q)
						break
					}
				}
			}
		}
		if overlaps > 0 || over > 0 {
			t.Errorf("%s: %d texts over text, %d places of text over glass", name, overlaps, over)
		}
	}
}

func TestTextIsLargeEnoughAndInsideTheBorder(t *testing.T) {
	for name, p := range drawings() {
		s := pattern.Draw(p)
		inner := geom.Rect{Max: geom.Point{X: s.Width, Y: s.Height}}.Grown(-6)
		eachItem(s, func(layer, group string, i sheet.Item) {
			if w, ok := i.(sheet.Text); ok && sheet.CapHeight(w.Size) < 2.5 {
				t.Errorf("%s: %q has capitals of %.2f mm", name, w.Text, sheet.CapHeight(w.Size))
			}
			if b := i.Bounds(); layer != "border" && !b.IsEmpty() && (!inner.Contains(b.Min) || !inner.Contains(b.Max)) {
				t.Errorf("%s: an item of %s reaches to %v, outside the border", name, group, b)
			}
		})
	}
}

func TestEveryHeatEndUnitAndFindingIsNamed(t *testing.T) {
	for name, p := range drawings() {
		s := pattern.Draw(p)
		var want, got []string
		for _, u := range p.Units {
			for _, h := range u.Heats {
				want = append(want, fmt.Sprintf("labels-%s %d", u.ID, h.Number))
			}
			want = append(want, "labels-"+u.ID+" "+u.ID+" A", "labels-"+u.ID+" "+u.ID+" B")
		}
		for _, told := range pattern.TellFindings(p, words.English()) {
			for k, f := range told.Findings {
				if told.First > 0 { // notes are told by their heats
					want = append(want, fmt.Sprintf("labels-%s F%d", f.Unit, told.First+k))
				}
			}
		}
		eachItem(s, func(layer, group string, i sheet.Item) {
			if w, ok := i.(sheet.Text); ok && layer == "labels" {
				got = append(got, group+" "+w.Text)
			}
		})
		for _, w := range want {
			n := 0
			for _, g := range got {
				if g == w {
					n++
				}
			}
			if n != 1 {
				t.Errorf("%s: %q is on the sheet %d times", name, w, n)
			}
		}
		if len(got) != len(want)+len(p.Units) { // and one name a unit
			t.Errorf("%s: %d labels, want %d", name, len(got), len(want)+len(p.Units))
		}
	}
}

// Every finding is told in words, those of one kind in one sentence with their places,
// and marked on the glass by the numbers of the list.
func TestFindingsAreToldInWords(t *testing.T) {
	p := patterntest.WithFindings(patterntest.Word("HE", 40, 1))
	note := p.Findings[len(p.Findings)-1]
	for _, h := range p.Units[1].Heats[:4] {
		again := note
		again.Unit, again.At = p.Units[1].ID, h.At
		p.Findings = append(p.Findings, again)
	}
	warning := p.Findings[1]
	for _, h := range p.Units[0].Heats[:3] {
		again := warning
		again.At = h.At
		p.Findings = append(p.Findings, again)
	}
	finding.Sort(p.Findings)
	var all strings.Builder
	for _, w := range texts(pattern.Draw(p)) {
		all.WriteString(w.Text + " ")
	}
	for _, want := range []string{
		"F1 ERROR The unit is longer than one piece of glass may be", "F2–F5 Warning Two heated zones touch", "Remedy: let the first cool",
		"Note A tight bend: gather glass: U1 heats 2; U2 heats 1–4.",
	} {
		if !strings.Contains(strings.ReplaceAll(all.String(), "  ", " "), want) {
			t.Errorf("%q is not on the sheet: %s", want, all.String())
		}
	}
}

// Every sentence that a finding of the program can have is told in every language, with
// its figures and the words in it.
func TestFindingsAreToldInEveryLanguage(t *testing.T) {
	de, err := words.In("de")
	if err != nil {
		t.Fatal(err)
	}
	p := pattern.Pattern{Findings: []finding.Finding{
		{Severity: finding.Error, What: "bent last, heat 12 cannot be made, because there is no room for a hand",
			Remedy: "let a bender judge, or allow shorter units"},
		{Severity: finding.Warning, What: "a gap of 12.5 mm in the light, away from the ends and crossings of the stroke"},
		{Severity: finding.Warning, What: "a gap of 8 mm in the light, away from the ends and crossings of the stroke", Letter: "S"},
	}}
	told := pattern.TellFindings(p, de)
	if len(told) != 2 {
		t.Fatalf("%d kinds: %+v", len(told), told)
	}
	if want := "Zuletzt gebogen, ist Hitze 12 nicht zu machen, weil kein Platz für die Hand ist: (0, 0)"; told[0].Text != want {
		t.Errorf("%q, want %q", told[0].Text, want)
	}
	if want := "Eine Lücke von 12,5; 8 mm im Licht, fern von Enden und Kreuzungen des Strichs: (0, 0); “S” (0, 0)"; told[1].Text != want || told[1].Mark() != "F2–F3" {
		t.Errorf("%s %q, want F2–F3 %q", told[1].Mark(), told[1].Text, want)
	}
}

// pathsOf returns all paths of a group.
func pathsOf(s *sheet.Sheet, id string) []geom.Path {
	var out []geom.Path
	eachItem(s, func(_, group string, i sheet.Item) {
		if sh, ok := i.(sheet.Shape); ok && group == id {
			out = append(out, sh.Paths...)
		}
	})
	return out
}

func distance(paths []geom.Path, q geom.Point) float64 {
	best := math.Inf(1)
	for _, p := range paths {
		_, d := p.Nearest(q)
		best = min(best, d)
	}
	return best
}

// The drawing is the mirror image of the front: every place of the tube lies on
// the drawn centreline, and the other way round.
func TestCentrelineIsTheMirrorOfTheFront(t *testing.T) {
	for _, name := range []string{"a word", "one small letter"} {
		p := drawings()[name]
		s := pattern.Draw(p)
		glass := glassOf(t, p, s, 0.25)
		for i, u := range p.Units {
			line := pathsOf(s, "centreline-"+u.ID)
			for _, q := range glass[i] {
				if d := distance(line, q); d > 0.01 {
					t.Fatalf("%s unit %s: the tube at %v is %.3f mm off the drawn centreline", name, u.ID, q, d)
				}
			}
			for _, path := range line {
				for _, q := range path.Samples(1) {
					near := math.Inf(1)
					for _, g := range glass[i] {
						near = min(near, g.Dist(q))
					}
					if near > 0.15 {
						t.Fatalf("%s unit %s: the centreline is drawn at %v, %.2f mm from the tube", name, u.ID, q, near)
					}
				}
			}
		}
	}
}

// A tube that nowhere crosses itself or bends out of the face has both edges half
// a diameter from its centreline, everywhere.
func TestEdgesStandHalfADiameterOff(t *testing.T) {
	p := patterntest.Word("S", 40, 1)
	s := pattern.Draw(p)
	line := pathsOf(s, "centreline-U1")
	n := 0
	for _, e := range pathsOf(s, "glass-U1") {
		for _, q := range e.Samples(0.5) {
			n++
			if d := distance(line, q); math.Abs(d-6) > 0.01 {
				t.Fatalf("an edge of a tube of 12 mm at %v is %.3f mm from the centreline", q, d)
			}
		}
	}
	if n < 1000 {
		t.Errorf("only %d places of the edges of 300 mm of lit glass were looked at", n)
	}
}

// Where the X crosses itself the strand in the face is whole and no edge of the
// strand that dips is drawn over it.
func TestCrossingIsDrawnBroken(t *testing.T) {
	p := patterntest.Word("X", 40, 1)
	s := pattern.Draw(p)
	x0, y0 := origin(t, s)
	edges := pathsOf(s, "glass-U1")
	at := func(x, y float64) geom.Point { return geom.Point{X: x0 - x, Y: y0 + y} }
	over := geom.Line{A: at(0, 138), B: at(96, 0)} // the first stroke lies in the face
	d := over.DirAt(0)
	for along := -20.0; along <= 20; along += 0.5 {
		c := at(48, 69).Add(d.Mul(along))
		for _, side := range []float64{-6, 6} {
			if off := distance(edges, c.Add(d.Left().Mul(side))); off > 0.01 {
				t.Errorf("%.1f mm from the crossing the edge of the strand in the face is missing", along)
			}
		}
		for side := -5.5; side <= 5.5; side += 0.5 {
			if off := distance(edges, c.Add(d.Left().Mul(side))); off < 0.4 {
				t.Errorf("an edge runs over the strand in the face, %.1f mm along and %.1f mm across", along, side)
			}
		}
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	for name := range drawings() {
		once, again := encoded(t, drawings()[name]), encoded(t, drawings()[name])
		if !bytes.Equal(once, again) {
			t.Errorf("%s: two runs differ", name)
		}
	}
}

func encoded(t *testing.T, p pattern.Pattern) []byte {
	t.Helper()
	var buf bytes.Buffer
	s := pattern.Draw(p)
	if err := svg.Encode(&buf, s); err != nil {
		t.Fatal(err)
	}
	if err := pdf.Encode(&buf, s); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// A sheet that is cut for printing shows its scale bars whole on every page.
func TestEveryPageHasScaleBars(t *testing.T) {
	for _, n := range []int{1, 14, 28} { // to 13 m
		s := pattern.Draw(patterntest.Word(strings.Repeat("HE", n), 200, 2))
		scale, ok := s.Layer("scale")
		if !ok {
			t.Fatal("no scale bars")
		}
		for i, page := range pdf.Pages(s) {
			whole := false
			for _, g := range scale.Groups {
				b := geom.EmptyRect()
				for _, item := range g.Items {
					b = b.Union(item.Bounds())
				}
				whole = whole || page.Contains(b.Min) && page.Contains(b.Max)
			}
			if !whole {
				t.Errorf("sheet of %.0f mm: page %d (%v) has no whole set of scale bars", s.Width, i+1, page)
			}
		}
	}
}

// The bars are exactly 100 mm and 4 in, with no pen to add to them.
func TestScaleBarsAreExact(t *testing.T) {
	s := pattern.Draw(patterntest.Word("H", 40, 1))
	count := map[string]int{}
	eachItem(s, func(layer, _ string, i sheet.Item) {
		sh, ok := i.(sheet.Shape)
		if !ok || layer != "scale" || !sh.Fill.Set {
			return
		}
		b := sh.Bounds()
		for _, want := range []float64{100, 101.6} {
			if math.Abs(b.Width()-want) < 1e-9 {
				count[fmt.Sprintf("%g across", want)]++
			}
			if math.Abs(b.Height()-want) < 1e-9 {
				count[fmt.Sprintf("%g up", want)]++
			}
		}
		if sh.Pen.Colour.Set {
			t.Error("a scale bar has a pen")
		}
	})
	for _, k := range []string{"100 across", "100 up", "101.6 across", "101.6 up"} {
		if count[k] != 1 {
			t.Errorf("%d bars of %s mm", count[k], k)
		}
	}
}

// Hidden glass is hatched along all its length, lit glass nowhere but where hidden
// glass lies behind it.
func TestHatchingCoversHiddenGlassOnly(t *testing.T) {
	p := patterntest.Word("HE", 40, 1)
	s := pattern.Draw(p)
	x0, y0 := origin(t, s)
	for _, u := range p.Units {
		var hatch []geom.Path
		eachItem(s, func(_, group string, i sheet.Item) {
			if sh, ok := i.(sheet.Shape); ok && group == "hidden-"+u.ID && len(sh.Pen.Dash) == 0 {
				hatch = append(hatch, sh.Paths...)
			}
		})
		for _, piece := range u.Tube {
			if piece.Role != tube.Hidden {
				continue
			}
			q := piece.Seg.PointAt(piece.Seg.Length() / 2)
			if d := distance(hatch, geom.Point{X: x0 - q.X, Y: y0 + q.Y}); d > 4 {
				t.Errorf("unit %s: hidden glass at %v is %.1f mm from any hatching", u.ID, q, d)
			}
		}
		for _, h := range hatch {
			q := h.PointAt(h.Length() / 2)
			near := math.Inf(1)
			for _, piece := range u.Tube {
				if piece.Role == tube.Hidden {
					for k := 0; k <= 40; k++ {
						g := piece.Seg.PointAt(piece.Seg.Length() * float64(k) / 40)
						near = min(near, q.Dist(geom.Point{X: x0 - g.X, Y: y0 + g.Y}))
					}
				}
			}
			if near > 6.5 {
				t.Errorf("unit %s: hatching at %v, %.1f mm from hidden glass", u.ID, q, near)
			}
		}
	}
}

func BenchmarkDraw(b *testing.B) {
	p := patterntest.Word("HEXSHEXSHE", 40, 1)
	for b.Loop() {
		pattern.Draw(p)
	}
}

func BenchmarkDrawAHundredUnits(b *testing.B) {
	p := patterntest.Word(strings.Repeat("HEXS", 25), 40, 1)
	for b.Loop() {
		pattern.Draw(p)
	}
}
