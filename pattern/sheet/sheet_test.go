package sheet

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"tubewright/geom"
)

func TestPrintableLeavesNoBlankBox(t *testing.T) {
	for _, tc := range []struct{ in, want string }{
		{"Rye & Salt", "Rye & Salt"},
		{"Über – ½ Ж Ω", "Über – ½ Ж Ω"},
		{"ไทย", "[U+0E44][U+0E17][U+0E22]"},
		{"خبز", "[U+062E][U+0628][U+0632]"},
		{"a\nb\tc\x00", "a b c "},
		{"\U0001F950", "[U+1F950]"},
	} {
		got := Printable(tc.in)
		if got != tc.want {
			t.Errorf("Printable(%q) = %q, want %q", tc.in, got, tc.want)
		}
		if Printable(got) != got {
			t.Errorf("Printable(%q) is not printable itself", tc.in)
		}
	}
}

func FuzzWrap(f *testing.F) { // wrapping keeps every character but spaces, and the width
	f.Add("the quick brown fox", 30.0)
	f.Add("Donaudampfschifffahrt Ж ½", 9.0)
	f.Fuzz(func(t *testing.T, s string, width float64) {
		if !(width > 8 && width < 1000) || len(s) > 500 {
			t.Skip()
		}
		s = Printable(s)
		lines := Wrap(s, MinSize, Regular, width)
		if got, want := strings.Join(strings.Fields(strings.Join(lines, "")), ""), strings.Join(strings.Fields(s), ""); got != want {
			t.Fatalf("%q became %q", want, got)
		}
		for _, l := range lines {
			if Room*Width(l, MinSize, Regular) > width*(1+1e-12) {
				t.Fatalf("%q is %.2f mm wide, the column %.2f", l, Width(l, MinSize, Regular), width)
			}
		}
	})
}

func TestTextBoxTurnsAboutItsPlace(t *testing.T) {
	flat := Text{At: geom.Point{X: 10, Y: 20}, Text: "Heat 12", Size: 5, Anchor: Middle}
	up := flat
	up.Turn = 90 * geom.Degree
	f, u := flat.Bounds(), up.Bounds()
	if math.Abs(f.Width()-u.Height()) > 1e-9 || math.Abs(f.Height()-u.Width()) > 1e-9 {
		t.Errorf("turned a quarter, a box of %v by %v is %v by %v", f.Width(), f.Height(), u.Width(), u.Height())
	}
	if c := f.Centre(); math.Abs(c.X-10) > 1e-9 {
		t.Errorf("anchored in the middle at 10, the text is centred at %v", c.X)
	}
	if f.Min.Y >= 20 || f.Max.Y <= 20+CapHeight(5) {
		t.Errorf("a box from %v to %v does not hold capitals on a baseline at 20", f.Min.Y, f.Max.Y)
	}
}

// Labels at random about random strips: none touches a strip, a box or another label,
// each leader ends at its label, and hardly one in a hundred runs over a label.
func TestPlacerKeepsLabelsClear(t *testing.T) {
	const gap = 1.0
	over, all := 0, 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 1))
		at := func() geom.Point { return geom.Point{X: 200 * r.Float64(), Y: 100 * r.Float64()} }
		p := NewPlacer(gap)
		var strips []capsule
		var labels []Label
		for range 8 {
			c := capsule{a: at(), b: at(), radius: 2 + 6*r.Float64()}
			strips = append(strips, c)
			p.Block(c.a, c.b, c.radius)
			for k := range 5 {
				l := Label{Anchor: c.a.Lerp(c.b, r.Float64()), Width: 4 + 20*r.Float64(), Height: 4 + 4*r.Float64(), Reach: c.radius}
				if k%2 == 0 {
					l.Round, l.Height = true, l.Width
				}
				labels = append(labels, l)
			}
		}
		// Over some anchors: their leaders cannot but cross it.
		wall := geom.Rect{Min: geom.Point{X: 80, Y: 40}, Max: geom.Point{X: 100, Y: 60}}
		p.BlockBox(wall)
		spots := p.Place(labels)
		all += len(spots)
		for i, s := range spots {
			box := labels[i].box(s.Centre)
			for _, c := range strips {
				if d := rectDistance(box, c.a, c.b); d < c.radius+gap-1e-9 {
					t.Errorf("seed %d: label %d is %.3f mm from a strip of radius %.3f", seed, i, d, c.radius)
				}
			}
			if box.Overlaps(wall) {
				t.Errorf("seed %d: label %d lies on a box", seed, i)
			}
			if d := box.Grown(1e-6); !d.Contains(s.Leader) {
				t.Errorf("seed %d: leader of label %d ends at %v, off its border", seed, i, s.Leader)
			}
			for k := range spots {
				other := labels[k].box(spots[k].Centre)
				if k < i && box.Overlaps(other) {
					t.Errorf("seed %d: labels %d and %d overlap", seed, i, k)
				}
				if k != i && rectDistance(other, labels[i].Anchor, s.Leader) == 0 {
					over++
				}
			}
		}
	}
	if over*100 > all {
		t.Errorf("%d of %d leaders run over a label", over, all)
	}
}

// Alone beside a strip, a label stands as near as the gap allows.
func TestPlacerTakesTheNearestPlace(t *testing.T) {
	p := NewPlacer(1)
	p.Block(geom.Point{X: -50}, geom.Point{X: 50}, 6)
	s := p.Place([]Label{{Width: 6, Height: 6, Round: true, Reach: 6, Prefer: geom.Vec{Y: 1}}})[0]
	if d := s.Centre.Dist(geom.Point{Y: 10}); d > 1e-3 { // 6 to the edge, 1 of gap, 3 of radius
		t.Errorf("label at %v, want (0, 10)", s.Centre)
	}
}

func TestMovedMovesEverything(t *testing.T) {
	v := geom.Vec{X: 3, Y: -4}
	for _, i := range []Item{
		Shape{Paths: []geom.Path{Circle(geom.Point{X: 1, Y: 2}, 5), Polyline(geom.Point{}, geom.Point{X: 9, Y: 1})}, Pen: Pen{Width: 1, Colour: Grey(0)}},
		Text{At: geom.Point{X: 1, Y: 2}, Text: "x", Size: 4},
	} {
		a, b := i.Bounds(), Moved(i, v).Bounds()
		if a.Min.Add(v).Dist(b.Min) > 1e-9 || a.Max.Add(v).Dist(b.Max) > 1e-9 {
			t.Errorf("%T: box %v moved to %v", i, a, b)
		}
	}
}

// At any width that holds it, a figure stays with its unit and its sign.
func TestWrapKeepsFiguresWhole(t *testing.T) {
	const text = "Double-back up, 180° at R 12 mm, wall thins to 67 %. In the way of 3 in D 10 mm."
	for width := 24.0; width < 150; width++ {
		lines := Wrap(text, MinSize, Regular, width)
		for _, whole := range []string{"R 12 mm,", "67 %.", "D 10 mm."} {
			if !slices.ContainsFunc(lines, func(l string) bool { return strings.Contains(l, whole) }) {
				t.Errorf("at %g mm %q is broken: %q", width, whole, lines)
			}
		}
		if got := strings.Join(lines, " "); got != text {
			t.Errorf("at %g mm: %q", width, got)
		}
	}
}
