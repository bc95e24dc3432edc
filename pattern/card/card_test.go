package card_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/card"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/stick"
	"tubewright/pattern/words"
)

const width = 177.0 // of the text on A4

// planned returns letters built by hand with their plans.
func planned(text string) pattern.Pattern {
	p := patterntest.Word(text, 40, 1)
	for i := range p.Units {
		u := &p.Units[i]
		u.Plan, _ = plan.Make(plan.Unit{ID: u.ID, Tube: u.Tube, Table: &u.Table, Heats: u.Heats}, p.Spec.Rules)
	}
	return p
}

func in(t *testing.T, language string) words.Words {
	t.Helper()
	w, err := words.In(language)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// rows are all rows of the card of a unit.
func rows(p pattern.Pattern, u pattern.Unit, w words.Words) []paper.Row {
	return slices.Concat(card.Facts(p, u, w, width), card.Sticks(u, w, width), card.Heats(p, u, w, width), card.Table(u, w, width))
}

func textsOf(rs []paper.Row) []sheet.Text {
	var out []sheet.Text
	for _, r := range rs {
		for _, i := range r.Items {
			if x, ok := i.(sheet.Text); ok {
				out = append(out, x)
			}
		}
	}
	return out
}

// In every language: nothing reaches beyond its row or the width, no text lies over
// text, none is too small to read.
func TestRowsHoldWhatIsInThem(t *testing.T) {
	p := planned("HEXS")
	for _, language := range words.Languages() {
		w := in(t, language)
		for _, u := range p.Units {
			for k, r := range rows(p, u, w) {
				room := geom.Rect{Min: geom.Point{Y: -r.Height - 0.5}, Max: geom.Point{X: width, Y: 0.5}}.Grown(0.5)
				for i, item := range r.Items {
					if b := item.Bounds(); !room.Contains(b.Min) || !room.Contains(b.Max) {
						t.Errorf("%s %s: row %d of %.1f mm: %+v reaches to %v", language, u.ID, k, r.Height, item, b)
					}
					a, ok := item.(sheet.Text)
					if !ok {
						continue
					}
					if a.Size < sheet.MinSize {
						t.Errorf("%s %s: %q is %.1f mm", language, u.ID, a.Text, a.Size)
					}
					for _, other := range r.Items[:i] {
						if b, ok := other.(sheet.Text); ok && a.Bounds().Overlaps(b.Bounds()) {
							t.Errorf("%s %s: %q over %q", language, u.ID, a.Text, b.Text)
						}
					}
				}
			}
		}
	}
}

// Every heat has a ring with its number in the list and one on its stick; every
// figure of a mark is printed.
func TestHeatsAndMarksAreOnTheCard(t *testing.T) {
	p := planned("E")
	u := p.Units[0]
	count := map[string]int{}
	for _, x := range textsOf(rows(p, u, in(t, "en"))) {
		count[x.Text]++
	}
	for _, h := range u.Heats {
		if n := count[strconv.Itoa(h.Number)]; n < 2 {
			t.Errorf("heat %d stands on the card %d times", h.Number, n)
		}
	}
	for _, piece := range u.Plan.Pieces {
		for _, m := range piece.Marks {
			s := geom.FormatNumber(m.At, 0)
			if m.Kind == stick.HeatsAt && count[s] == 0 {
				t.Errorf("the mark at %s mm is not on the card", s)
			}
		}
	}
	if len(u.Plan.Tell(u.Heats, bend.Strains(u.Heats, p.Spec.Rules), plan.English())) != len(u.Heats) {
		t.Error("not every heat is told")
	}
}

// A stick with many more marks than have room side by side is drawn in several
// stretches, and every mark stands in one of them, once.
// The card tells the largest swing of the unit, and whether any order has a smaller one.
func TestTheLargestSwingAndItsProofAreOnTheCard(t *testing.T) {
	p := planned("HX")
	for _, u := range p.Units {
		order := &u.Plan.Sections[0].Order
		largest := geom.FormatNumber(order.LargestTravel(), 0)
		for _, exact := range []bool{true, false} {
			want := "The largest swing is " + largest + " mm; no order has a smaller one."
			if order.Exact = exact; !exact {
				order.Bound = order.LargestTravel() - 7.5
				want = "The largest swing is " + largest + " mm; no order has one under " + geom.FormatNumber(math.Floor(order.Bound), 0) + " mm."
			}
			var said string
			for _, x := range textsOf(card.Facts(p, u, in(t, "en"), width)) {
				said += x.Text + " "
			}
			if !strings.Contains(said, want) {
				t.Errorf("unit %s, exact %v: the card says %q, want %q", u.ID, exact, said, want)
			}
		}
	}
}

func TestStickWithManyMarks(t *testing.T) {
	piece := stick.Piece{Unit: "U1", Number: 1, Length: 1219}
	const n = 40
	for k := range n {
		at := 20 + 29.5*float64(k)
		for i, kind := range []string{stick.HeatsAt, stick.Middle, stick.HeatsTo} {
			piece.Marks = append(piece.Marks, stick.Mark{At: at + 10*float64(i), Kind: kind, Heat: k + 1})
		}
	}
	u := pattern.Unit{Plan: plan.Plan{Pieces: []stick.Piece{piece}}}
	count := map[string]int{}
	for _, r := range card.Sticks(u, in(t, "en"), width) {
		texts := textsOf([]paper.Row{r})
		for i, a := range texts {
			count[fmt.Sprint(a.Turn != 0, a.Text)]++
			for _, b := range texts[:i] {
				if a.Bounds().Overlaps(b.Bounds()) {
					t.Errorf("%q over %q", a.Text, b.Text)
				}
			}
		}
	}
	for _, m := range piece.Marks {
		key := fmt.Sprint(true, geom.FormatNumber(m.At, 0))
		if m.Kind == stick.Middle {
			key = fmt.Sprint(false, strconv.Itoa(m.Heat))
		}
		if count[key] != 1 {
			t.Errorf("mark %+v is there %d times", m, count[key])
		}
	}
}

// On a strip a mark stands where it stands on the stick: lines at true distance,
// in one piece or in stretches.
func TestStripsAreAtTrueSize(t *testing.T) {
	p := planned("H")
	for _, piece := range p.Units[0].Plan.Pieces {
		for _, wide := range []float64{piece.Length + 1, width} {
			var found []float64 // places of upright lines along the stick
			from := 0.0
			for _, r := range card.Strip(piece, p.Spec.Rules.Diameter, in(t, "en"), wide) {
				long, left := 0.0, math.Inf(1)
				var xs []float64
				for _, i := range r.Items {
					sh, ok := i.(sheet.Shape)
					if !ok || len(sh.Paths) != 1 || len(sh.Paths[0].Segments) != 1 {
						continue
					}
					l, ok := sh.Paths[0].Segments[0].(geom.Line)
					if !ok {
						continue
					}
					if l.A.X == l.B.X {
						xs = append(xs, l.A.X)
					}
					if l.A.Y == l.B.Y { // an edge of the tube
						long, left = math.Abs(l.B.X-l.A.X), min(left, l.A.X, l.B.X)
					}
				}
				for _, x := range xs {
					found = append(found, from+x-left)
				}
				from += long
			}
			if math.Abs(from-piece.Length) > 1e-6 {
				t.Errorf("a stick of %.3f mm is drawn over %.3f", piece.Length, from)
			}
			for _, m := range piece.Marks {
				ok := slices.ContainsFunc(found, func(x float64) bool { return math.Abs(x-m.At) < 1e-6 })
				if !ok && m.Kind != stick.Middle {
					t.Errorf("on paper of %.0f mm: no line at %.2f mm (%s)", wide, m.At, m.Kind)
				}
			}
		}
	}
}

func TestSameCardsEveryTime(t *testing.T) {
	draw := func() string {
		p := planned("EX")
		s := ""
		for _, u := range p.Units {
			s += fmt.Sprint(rows(p, u, in(t, "ja")))
		}
		return s
	}
	first, second := draw(), draw()
	if first != second {
		t.Error("two runs differ")
	}
}
