package card_test

import (
	"bytes"
	"math"
	"strconv"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/card"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/plan"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/svg"
	"tubewright/pattern/stick"
)

// planned returns letters built by hand with their plans.
func planned(text string) pattern.Pattern {
	p := patterntest.Word(text, 40, 1)
	for i := range p.Units {
		u := &p.Units[i]
		u.Plan, _ = plan.Make(plan.Unit{ID: u.ID, Tube: u.Tube, Table: &u.Table, Heats: u.Heats}, p.Spec.Rules)
	}
	return p
}

func items(s *sheet.Sheet) []sheet.Item {
	var out []sheet.Item
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			out = append(out, g.Items...)
		}
	}
	return out
}

func TestEverythingIsOnThePaperAndReadable(t *testing.T) {
	for _, s := range card.Pages(planned("HEXS")) {
		paper := geom.Rect{Max: geom.Point{X: s.Width, Y: s.Height}}.Grown(-3)
		if s.Frame != sheet.Bench {
			t.Error("a card in the wrong frame")
		}
		for _, i := range items(s) {
			b := i.Bounds()
			if !paper.Contains(b.Min) || !paper.Contains(b.Max) {
				t.Errorf("%s: %+v is off the paper", s.Title, i)
			}
			if x, ok := i.(sheet.Text); ok && x.Size < sheet.MinSize {
				t.Errorf("%s: %q is %.1f mm high", s.Title, x.Text, x.Size)
			}
		}
	}
}

func TestNoTextOverText(t *testing.T) {
	for _, s := range card.Pages(planned("HEXS")) {
		var boxes []geom.Rect
		var words []string
		for _, i := range items(s) {
			x, ok := i.(sheet.Text)
			if !ok {
				continue
			}
			b := x.Bounds().Grown(-0.45) // what a box leaves free above and below its letters
			for k, o := range boxes {
				if o.Overlaps(b) {
					t.Errorf("%s: %q lies over %q", s.Title, x.Text, words[k])
				}
			}
			boxes, words = append(boxes, b), append(words, x.Text)
		}
	}
}

// Every heat has a ring with its number in the list and one on its stick; every
// figure of a mark is printed.
func TestHeatsAndMarksAreOnTheCard(t *testing.T) {
	p := planned("E")
	count := map[string]int{}
	for _, s := range card.Pages(p) {
		for _, i := range items(s) {
			if x, ok := i.(sheet.Text); ok {
				count[x.Text]++
			}
		}
	}
	u := p.Units[0]
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

// On a strip a mark stands where it stands on the stick: lines at true distance.
func TestStripsAreAtTrueSize(t *testing.T) {
	p := planned("H")
	pieces := p.Units[0].Plan.Pieces
	for k, s := range card.Strips(pieces, p.Spec.Rules.Diameter) {
		var xs []float64
		for _, i := range items(s) {
			if sh, ok := i.(sheet.Shape); ok && len(sh.Paths) == 1 && len(sh.Paths[0].Segments) == 1 {
				if l, ok := sh.Paths[0].Segments[0].(geom.Line); ok && l.A.X == l.B.X {
					xs = append(xs, l.A.X)
				}
			}
		}
		for _, m := range pieces[k].Marks {
			found := false
			for _, x := range xs {
				found = found || math.Abs(x-25-m.At) < 1e-9
			}
			if !found && m.Kind != stick.Middle {
				t.Errorf("no line at %.2f mm (%s)", m.At, m.Kind)
			}
		}
	}
}

func TestSameCardsEveryTime(t *testing.T) {
	draw := func() []byte {
		var b bytes.Buffer
		for _, s := range card.Pages(planned("EX")) {
			if err := svg.Encode(&b, s); err != nil {
				t.Fatal(err)
			}
		}
		return b.Bytes()
	}
	if !bytes.Equal(draw(), draw()) {
		t.Error("two runs differ")
	}
}
