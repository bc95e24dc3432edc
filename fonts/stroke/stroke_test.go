package stroke

import (
	"math"
	"os"
	"strings"
	"testing"

	"tubewright/geom"
)

var sets = []string{"futural", "rowmans", "scripts", "cursive", "greeks"}

func load(t testing.TB, name string) *Font {
	t.Helper()
	data, err := os.ReadFile("../faces/" + name + ".jhf")
	if err != nil {
		t.Fatal(err)
	}
	f, err := Parse(data)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return f
}

func bounds(g Glyph) geom.Rect {
	r := geom.EmptyRect()
	for _, s := range g.Strokes {
		r = r.Union(s.Bounds())
	}
	return r
}

// TestPlainH has the strokes of H in futural, read by hand from its line
// "12345  9G]KFK[ RYFY[ RKPYP".
func TestPlainH(t *testing.T) {
	h, ok := load(t, "futural").Glyph('H')
	if !ok {
		t.Fatal("no H")
	}
	want := []geom.Line{
		{A: geom.Point{X: 4, Y: 21}, B: geom.Point{X: 4, Y: 0}},
		{A: geom.Point{X: 18, Y: 21}, B: geom.Point{X: 18, Y: 0}},
		{A: geom.Point{X: 4, Y: 11}, B: geom.Point{X: 18, Y: 11}},
	}
	if h.Advance != 22 || len(h.Strokes) != len(want) {
		t.Fatalf("advance %d, %d strokes; want 22 and %d", h.Advance, len(h.Strokes), len(want))
	}
	for i, s := range h.Strokes {
		if len(s.Segments) != 1 || s.Segments[0] != geom.Segment(want[i]) || s.Closed {
			t.Errorf("stroke %d is %v, want %v", i+1, s.Segments, want[i])
		}
	}
}

// TestCapitals: every capital stands on the baseline and is 21 units high, but
// for the tails of J and Q and strokes that swing past in the scripts.
func TestCapitals(t *testing.T) {
	for _, name := range sets {
		h, ok := load(t, name).Glyph('H')
		if b := bounds(h); !ok || b.Min.Y != 0 || b.Max.Y != CapHeight {
			t.Errorf("%s: H reaches from %g to %g, want 0 to %d", name, b.Min.Y, b.Max.Y, CapHeight)
		}
	}
	f := load(t, "futural")
	for r := 'A'; r <= 'Z'; r++ {
		g, ok := f.Glyph(r)
		b := bounds(g)
		if !ok || b.Max.Y != CapHeight || b.Min.Y != 0 && r != 'Q' {
			t.Errorf("futural %c reaches from %g to %g", r, b.Min.Y, b.Max.Y)
		}
		if b.Min.X < 0 || b.Max.X > float64(g.Advance) {
			t.Errorf("futural %c is drawn from %g to %g in an advance of %d", r, b.Min.X, b.Max.X, g.Advance)
		}
	}
}

// TestScriptLettersJoin: each small letter of the scripts leaves at its right
// bearing, 5 units up, where the next one's entry is.
func TestScriptLettersJoin(t *testing.T) {
	for _, name := range []string{"scripts", "cursive"} {
		f := load(t, name)
		for r := 'a'; r <= 'z'; r++ {
			g, _ := f.Glyph(r)
			exit := geom.Point{X: float64(g.Advance), Y: 5}
			joined := false
			for _, s := range g.Strokes {
				joined = joined || !s.Closed && s.End() == exit
			}
			if !joined {
				t.Errorf("%s %c has no stroke that ends at %v", name, r, exit)
			}
		}
	}
}

func TestCoverage(t *testing.T) {
	for _, tc := range []struct{ set, has, lacks string }{
		{"futural", " !\"#$%&'()*+,-./0123456789:;<=>?@ABCXYZ[\\]^_`abcxyz{|}~", "°éΑ\u007F\n"},
		{"rowmans", "A&z°", "éΑ\u007F"},
		{"scripts", "A&z°", "éΑ\u007F"},
		{"cursive", "A&z", "°éΑ\u007F"},
		{"greeks", "AXaxΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩαβγδεζηθικλμνξοπρστυφχψω°1&", "YZyzςά"},
	} {
		f := load(t, tc.set)
		for _, r := range tc.has {
			if g, ok := f.Glyph(r); !ok || g.Advance <= 0 {
				t.Errorf("%s lacks %q", tc.set, r)
			}
		}
		for _, r := range tc.lacks {
			if _, ok := f.Glyph(r); ok {
				t.Errorf("%s has %q", tc.set, r)
			}
		}
	}
	f := load(t, "greeks")
	typed, _ := f.Glyph('A')
	if alpha, _ := f.Glyph('Α'); alpha.Number != typed.Number || alpha.Number != 527 {
		t.Errorf("alpha is glyph %d and key A glyph %d, want 527", alpha.Number, typed.Number)
	}
	if sigma, _ := f.Glyph('Σ'); sigma.Number != 544 { // the 18th letter
		t.Errorf("sigma is glyph %d, want 544", sigma.Number)
	}
}

// page returns a whole set whose line for '!' is replaced.
func page(line string) []byte {
	lines := []string{"    1  1JZ", line}
	for range lastCode - firstCode - 1 {
		lines = append(lines, "    2  3JZRFR[")
	}
	return []byte(strings.Join(lines, "\n") + "\n")
}

func TestParseErrors(t *testing.T) {
	for _, tc := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "data of 1 lines: need one for each character"},
		{"short", []byte("    1  1JZ\n"), "data of 1 lines"},
		{"line cut off", page("    1  3JZ"), `line 2: "  3" pairs announced, 2 characters follow`},
		{"no bearings", page("    1  0"), "line 2: 8 characters, need at least 10"},
		{"number", page("abcde  1JZ"), `line 2: glyph number "abcde" is not a number`},
		{"bearings swapped", page("    1  1ZJ"), "line 2: right bearing -8 lies before left bearing 8"},
		{"not a coordinate", page("    1  2JZR\x01"), "line 2: byte 0x01 is no coordinate"},
		{"large", make([]byte, maxSize+1), "at most 1000000"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			_, err := Parse(tc.data)
			if err == nil || !strings.Contains(err.Error(), tc.want) {
				t.Errorf("got %v, want an error with %q", err, tc.want)
			}
		})
	}
}

// TestStrokesAsDrawn: pen lifts part strokes, points on the spot vanish, and a
// stroke that comes back to its start is closed.
func TestStrokesAsDrawn(t *testing.T) {
	f, err := Parse(page("    1 13JZRRSR R RTTTTUT RRRSRRSRR"))
	if err != nil {
		t.Fatal(err)
	}
	g, _ := f.Glyph('!')
	if len(g.Strokes) != 3 {
		t.Fatalf("%d strokes, want 3", len(g.Strokes))
	}
	for i, want := range []struct {
		segments int
		closed   bool
	}{{1, false}, {1, false}, {3, true}} {
		if s := g.Strokes[i]; len(s.Segments) != want.segments || s.Closed != want.closed {
			t.Errorf("stroke %d has %d segments, closed %v; want %v", i+1, len(s.Segments), s.Closed, want)
		}
	}
}

// FuzzParse: what parses has strokes whose pieces meet, and as much length as
// its points are apart when read from the line without Parse's code.
func FuzzParse(f *testing.F) {
	f.Add("    1  9MWOMOV RUMUV ROQUQ")
	f.Add("  527  9I[RFJ[ RRFZ[ RMTWT")
	f.Add("    1  1JZ")
	f.Add("12345 -1JZ")
	f.Fuzz(func(t *testing.T, line string) {
		set, err := Parse(page(line))
		if err != nil || strings.ContainsAny(line, "\n\r") {
			return
		}
		g, _ := set.Glyph('!')
		got := 0.0
		for _, s := range g.Strokes {
			for i, piece := range s.Segments {
				if i > 0 && s.Segments[i-1].End() != piece.Start() {
					t.Errorf("%q: pieces do not meet", line)
				}
			}
			got += s.Length()
		}
		want := 0.0
		for i := 10; i+4 <= len(line); i += 2 {
			if line[i:i+2] != " R" && line[i+2:i+4] != " R" {
				want += math.Hypot(float64(line[i+2])-float64(line[i]), float64(line[i+3])-float64(line[i+1]))
			}
		}
		if math.Abs(got-want) > 1e-9*(1+want) {
			t.Errorf("%q: %g units of stroke, the points are %g apart", line, got, want)
		}
	})
}
