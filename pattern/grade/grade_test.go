package grade

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/geom/trace"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
)

const cap = 100.0 // mm, height of the capitals of the letters built here

// box is a rectangle as a contour, ink on the left or, reversed, a hole.
func box(x0, y0, x1, y1 float64, hole bool) geom.Contour {
	p := []geom.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
	if hole {
		p[1], p[3] = p[3], p[1]
	}
	c := geom.Contour{Start: p[0]}
	for _, q := range append(p[1:], p[0]) {
		c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: q})
	}
	return c
}

func letter(t *testing.T, text string, o ...geom.Contour) Letter {
	t.Helper()
	found, err := trace.Outline(o, trace.Options{CapHeight: cap})
	if err != nil {
		t.Fatal(err)
	}
	return Letter{Text: text, Outline: o, Trace: found}
}

// An E of bars: how wide the stem is, and the arms.
func barE(t *testing.T, stem, arm float64) Letter {
	return letter(t, "E", box(0, 0, stem, cap, false), box(0, 0, 60, arm, false), box(0, 50-arm/2, 60, 50+arm/2, false), box(0, cap-arm, 60, cap, false))
}

func TestStyles(t *testing.T) {
	for _, tc := range []struct {
		name   string
		letter Letter
		want   Style
		code   string
	}{
		{"even", barE(t, 8, 8), Even, ""},
		{"thick and thin", barE(t, 16, 5), Uneven, "face-uneven"},
		{"heavy", barE(t, 24, 24), Heavy, "face-heavy"},
		{"outline", letter(t, "I", box(0, 0, 24, cap, false), box(2, 2, 22, cap-2, true)), Outlined, "face-outline"},
		{"inline", letter(t, "I", box(0, 0, 24, cap, false), box(9, 9, 15, cap-9, true)), Inline, "face-inline"},
		{"three lines", letter(t, "I", box(0, 0, 4, cap, false), box(8, 0, 12, cap, false), box(16, 0, 20, cap, false)), Inline, "face-inline"},
		{"a counter is no inline", letter(t, "O", box(0, 0, 60, cap, false), box(8, 8, 52, cap-8, true)), Even, ""},
		{"single lines", Letter{Text: "I", Trace: trace.Result{Strokes: []trace.Stroke{{Path: geom.Path{Segments: []geom.Segment{geom.Line{B: geom.Point{Y: cap}}}}}}}}, Single, ""},
		{"nothing", Letter{Text: "I"}, Unknown, ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			all := []Letter{tc.letter}
			w := MeasureWidths(all, cap)
			if got := StyleOf(all, w, cap); got != tc.want {
				t.Errorf("%v, want %v; widths %+v", got, tc.want, w)
			}
			fs := Findings(all, glass.Default(8), cap)
			if tc.code == "" {
				if len(fs) > 0 {
					t.Errorf("findings %+v", fs)
				}
				return
			}
			if len(fs) != 1 || !IsOfFace(fs[0]) || fs[0].Code != tc.code || fs[0].Severity != finding.Warning || fs[0].Letter == "" || !strings.Contains(fs[0].Remedy, "take") {
				t.Errorf("findings %+v, want one %s with a letter and a remedy", fs, tc.code)
			}
		})
	}
}

// The widths of bars are those they were built with: the stem's 100 mm are
// more than a tenth of the whole, the arms the rest.
func TestWidths(t *testing.T) {
	w := MeasureWidths([]Letter{barE(t, 16, 5)}, cap)
	if math.Abs(w.Thick-0.16) > 0.005 || math.Abs(w.Thin-0.05) > 0.005 {
		t.Errorf("widths %+v, want 0.05 to 0.16", w)
	}
	if c := (Widths{}).Contrast(); c != 1 {
		t.Errorf("contrast %v of nothing", c)
	}
}

// The advice for a heavy face says the height at which its strokes have room
// for two runs: D + (D + clearance) across.
func TestHeavyAdvice(t *testing.T) {
	r := glass.Default(10)
	_, serve := Advice(nil, Heavy, Widths{0.25, 0.25, 0.25}, r, 60)
	if want := fmt.Sprintf("letters from %.0f mm high", (10+15)/0.25); !strings.Contains(serve, want) {
		t.Errorf("%q does not say %q", serve, want)
	}
	if _, serve = Advice(nil, Heavy, Widths{0.25, 0.25, 0.25}, r, 200); !strings.Contains(serve, "there is room at this height") {
		t.Errorf("%q", serve)
	}
	if _, serve = Advice([]Letter{{Text: "ب"}}, Uneven, Widths{0.05, 0.1, 0.2}, r, 200); !strings.Contains(serve, EvenArabic) {
		t.Errorf("%q names no Arabic face", serve)
	}
}

// hairpin is two straights of 100 mm, far apart as told, joined by a half circle.
func hairpin(far float64) trace.Result {
	p := geom.Path{Segments: []geom.Segment{
		geom.Line{A: geom.Point{Y: 150}, B: geom.Point{Y: 50}},
		geom.Arc{Centre: geom.Point{X: far / 2, Y: 50}, Radius: far / 2, From: 180 * geom.Degree, Sweep: 180 * geom.Degree},
		geom.Line{A: geom.Point{X: far, Y: 50}, B: geom.Point{X: far, Y: 150}},
	}}
	return trace.Result{Strokes: []trace.Stroke{{Path: p}}}
}

// Two runs side by side need D + clearance from middle to middle; where that
// is not the limit, the least height is the least that is served.
func TestRoomOfAHairpin(t *testing.T) {
	r := glass.Default(12)
	for _, tc := range []struct{ far, want float64 }{
		{10, r.Need() / 0.1},
		{20, r.Need() / 0.2},
		{50, leastTubes * 12},
	} {
		room := RoomIn(hairpin(tc.far), cap, r, false)
		if math.Abs(room.Gap-tc.far/cap) > 0.02*tc.far/cap || math.Abs(room.Height-tc.want) > 0.02*tc.want {
			t.Errorf("%v apart: %+v, want a height of %v", tc.far, room, tc.want)
		}
		// Drawn twice as large, the letter is the same letter.
		twice := hairpin(tc.far)
		twice.Strokes[0].Path = twice.Strokes[0].Path.Map(geom.SimilarityMap{Scale: 2})
		if again := RoomIn(twice, 2*cap, r, false); math.Abs(again.Height-room.Height) > 1e-2*room.Height {
			t.Errorf("%v apart: %v, drawn larger %v", tc.far, room.Height, again.Height)
		}
	}
	if room := RoomIn(hairpin(2), cap, r, false); room.Height != 0 || room.Reason == "" {
		t.Errorf("2 mm apart: %+v, want no height and a reason", room)
	}
}

func gradeOf(t *testing.T, letters ...Letter) Grade {
	t.Helper()
	return Of(Spec{Face: "Test Face", Rules: glass.Default(8), Height: cap, Cap: cap, Line: 0.92, Letters: letters})
}

func TestVerdicts(t *testing.T) {
	even, heavy := barE(t, 8, 8), barE(t, 24, 24)
	narrow := Letter{Text: "U", Trace: hairpin(3)}
	if g := gradeOf(t, even, even); g.Verdict != Good || g.Why != "" || g.Least <= 0 || g.LeastMost > g.Least {
		t.Errorf("even: %v, %q, from %v", g.Verdict, g.Why, g.Least)
	}
	if g := gradeOf(t, heavy); g.Verdict != Unsuited || g.Why == "" || g.Serve == "" {
		t.Errorf("heavy: %v, %q, %q", g.Verdict, g.Why, g.Serve)
	}
	g := gradeOf(t, even, even, narrow)
	if g.Verdict != WithCare || len(g.Careful()) != 1 || g.Careful()[0].Text != "U" {
		t.Errorf("one of three: %v, %+v", g.Verdict, g.Careful())
	}
	if r := g.Reasons(); len(r) != 1 || !strings.HasPrefix(r[0].Letters[0], "U (from ") {
		t.Errorf("reasons %+v", r)
	}
	if g := gradeOf(t, Letter{Text: "x"}); g.Verdict != Unsuited || g.Reasons()[0].Why != "it has no strokes" {
		t.Errorf("nothing: %v %+v", g.Verdict, g.Reasons())
	}
}

// Heights are those of the finished capital: what the centrelines need, drawn
// with a capital of Line·Cap, and the glass. Least is that of all letters,
// LeastMost that of nine in ten.
func TestLeastHeights(t *testing.T) {
	r := glass.Default(8)
	letters := []Letter{{Text: "U", Trace: hairpin(50)}, {Text: "U", Trace: hairpin(10)}}
	for range 8 {
		letters = append(letters, Letter{Text: "U", Trace: hairpin(20)})
	}
	g := gradeOf(t, letters...)
	for _, tc := range []struct{ got, want float64 }{{g.Least, r.Need()/0.1*0.92 + 8}, {g.LeastMost, r.Need()/0.2*0.92 + 8}} {
		if math.Abs(tc.got-tc.want) > 0.02*tc.want {
			t.Errorf("from %v mm, want %v", tc.got, tc.want)
		}
	}
}

// The sweep names the letters with the least coverage and the most spill; a
// note of the tracer says which of the two it is about.
func TestSweepAndNotes(t *testing.T) {
	a, b := Letter{Text: "A", Trace: hairpin(50)}, Letter{Text: "B", Trace: hairpin(50)}
	a.Trace.Coverage, a.Trace.Spill = 0.97, 0.01
	b.Trace.Coverage, b.Trace.Spill = 0.9, 0.005
	a.Trace.Notes = []trace.Note{{Kind: trace.Imprecise, Value: 0.01, Limit: 0.005}}
	b.Trace.Notes = []trace.Note{{Kind: trace.Imprecise, Value: 0.9, Limit: 0.95}}
	g := gradeOf(t, a, b)
	if cover, coverOf, spill, spillOf := g.Sweep(); cover != 0.9 || coverOf != "B" || spill != 0.01 || spillOf != "A" {
		t.Errorf("covers %v (%s), spills %v (%s)", cover, coverOf, spill, spillOf)
	}
	rs := g.Reasons()
	if len(rs) != 2 || rs[0].Why != "the strokes leave the ink" || rs[0].Letters[0] != "A (1 %)" || rs[1].Why != "the strokes cover too little of the ink" || rs[1].Letters[0] != "B (90 %)" {
		t.Errorf("reasons %+v", rs)
	}
}

// Whatever the letters, all of the specimen lies on its page, and no two of
// its texts touch.
func TestSpecimenFits(t *testing.T) {
	even, narrow := barE(t, 8, 8), Letter{Text: "U", Trace: hairpin(3)}
	for _, n := range []int{1, 7, 62} {
		var letters []Letter
		for i := range n {
			letters = append(letters, []Letter{even, narrow, even}[i%3])
		}
		s := Draw(gradeOf(t, letters...))
		page := geom.Rect{Max: geom.Point{X: s.Width, Y: s.Height}}
		if b := s.Bounds(); b.Union(page) != page {
			t.Errorf("%d letters: the drawing reaches %v", n, b)
		}
		var texts []geom.Rect
		for _, l := range s.Layers {
			for _, g := range l.Groups {
				for _, item := range g.Items {
					if _, isShape := item.(interface{ Box() [4]geom.Point }); isShape {
						texts = append(texts, item.Bounds())
					}
				}
			}
		}
		for i := range texts {
			for j := range i {
				if texts[i].Overlaps(texts[j]) {
					t.Errorf("%d letters: texts overlap at %v and %v", n, texts[i], texts[j])
				}
			}
		}
	}
}
