package shopsheet

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/shop"
	"tubewright/pattern/shop/table"
)

func made(t *testing.T, text string, s shop.Spec) (pattern.Pattern, shop.Plan) {
	t.Helper()
	p := patterntest.Word(text, 30, 1)
	plan, err := shop.Make(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return p, plan
}

func texts(s *sheet.Sheet) []sheet.Text {
	var out []sheet.Text
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				if x, ok := i.(sheet.Text); ok {
					out = append(out, x)
				}
			}
		}
	}
	return out
}

func allText(ss []*sheet.Sheet) string {
	var b strings.Builder
	for _, s := range ss {
		for _, x := range texts(s) {
			b.WriteString(x.Text + " ")
		}
	}
	return b.String()
}

// running is what stands under the headings, page after page: a paragraph that
// goes on in the next column is whole again.
func running(ss []*sheet.Sheet) string {
	var b strings.Builder
	for _, s := range ss {
		body, _ := s.Layer("notes")
		for _, x := range texts(&sheet.Sheet{Layers: []sheet.Layer{body}}) {
			if x.Size == bodySize {
				b.WriteString(x.Text + " ")
			}
		}
	}
	return b.String()
}

func cases() map[string]shop.Spec {
	return map[string]shop.Spec{
		"red":   {},
		"blue":  {Colour: "blue", Place: "FR", Ambient: "-20", Sets: 12},
		"USA":   {Place: "US", Colour: "green"},
		"mixed": {Changes: []shop.Change{{Unit: "U2", At: 200, Colour: "ruby-red", Glass: "lead-0010"}}},
	}
}

// No text is under 2.5 mm high, none leaves the paper, and none lies over another.
func TestTextIsLegibleAndApart(t *testing.T) {
	for name, spec := range cases() {
		p, plan := made(t, "HESXHESX", spec)
		books := map[string][]*sheet.Sheet{"shop": Draw(p, plan), "quote": DrawQuote(plan)}
		for book, ss := range books {
			for k, s := range ss {
				paper := geom.Rect{Min: geom.Point{X: 5, Y: 5}, Max: geom.Point{X: s.Width - 5, Y: s.Height - 5}}
				list := texts(s)
				var boxes []geom.Rect
				for _, x := range list {
					if sheet.CapHeight(x.Size) < 2.5 {
						t.Errorf("%s %s page %d: %q has capitals of %.2f mm", name, book, k+1, x.Text, sheet.CapHeight(x.Size))
					}
					b := inked(x)
					if !paper.Contains(b.Min) || !paper.Contains(b.Max) {
						t.Errorf("%s %s page %d: %q leaves the paper", name, book, k+1, x.Text)
					}
					b = b.Grown(-0.35) // accents and descenders of neighbouring lines may share a hair
					for j, o := range boxes {
						if b.Overlaps(o) {
							t.Errorf("%s %s page %d: %q lies over %q", name, book, k+1, x.Text, list[j].Text)
						}
					}
					boxes = append(boxes, b)
				}
			}
		}
	}
}

// inked is the box of a text as the file's own fonts print it, without the room
// that sheet.Text.Bounds leaves for a reader with others: a PDF carries its fonts.
func inked(x sheet.Text) geom.Rect {
	b := x.Bounds()
	less := b.Width() * (1 - 1/sheet.Room)
	switch x.Anchor {
	case sheet.Start:
		b.Max.X -= less
	case sheet.End:
		b.Min.X += less
	default:
		b.Min.X, b.Max.X = b.Min.X+less/2, b.Max.X-less/2
	}
	return b
}

// Every figure of the plan is on paper, with its source, but those of the quote,
// which are on the quote.
func TestEveryFigureIsPrinted(t *testing.T) {
	for name, spec := range cases() {
		p, plan := made(t, "HESX", spec)
		inside, quote := squeezed(running(Draw(p, plan))), squeezed(running(DrawQuote(plan)))
		for _, s := range plan.Sections {
			on := inside
			if s.Sheet == "quote" {
				on = quote
			}
			for _, f := range s.Figures {
				if s.ID == "stages" {
					f.Rule = ""
				}
				for _, what := range []string{f.Name, f.String(), f.Rule, f.Cite()} {
					if !strings.Contains(on, squeezed(sheet.Printable(what))) {
						t.Errorf("%s: %s/%s: %q is not printed", name, s.ID, f.Name, what)
					}
				}
			}
			for _, n := range s.Notes {
				if !strings.Contains(on, squeezed(n.Text)) {
					t.Errorf("%s: note %q is not printed", name, n.Text)
				}
			}
		}
	}
}

// squeezed is text without the spaces, where lines may break.
func squeezed(s string) string { return strings.Join(strings.Fields(s), "") }

// Each caution stands on the sheets once, mercury's only where there is mercury.
func TestCautionsOnce(t *testing.T) {
	for _, spec := range []shop.Spec{{}, {Colour: "blue"}} {
		p, plan := made(t, "HE", spec)
		got := squeezed(allText(Draw(p, plan)))
		for _, r := range table.Embedded().Table("cautions").Rows {
			want := 1
			if spec.Colour == "" && (r.Text("caution") == "mercury" || r.Text("caution") == "ultraviolet") {
				want = 0
			}
			if n := strings.Count(got, squeezed(r.Text("text"))); n != want {
				t.Errorf("colour %q: caution %q stands %d times, want %d", spec.Colour, r.Text("caution"), n, want)
			}
		}
		for _, u := range shop.Unchecked() {
			if strings.Count(got, squeezed(u)) != 1 {
				t.Errorf("not said once: %s", u)
			}
		}
	}
}

// A unit's sheets hold its card and no other unit's.
func TestUnitAlone(t *testing.T) {
	_, plan := made(t, "HESX", shop.Spec{Colour: "blue"})
	ss, err := DrawUnit(plan, "U3")
	if err != nil {
		t.Fatal(err)
	}
	got := allText(ss)
	for _, u := range plan.Units {
		if has := strings.Contains(got, "Card "+u.ID); has != (u.ID == "U3") {
			t.Errorf("card of %s: %v", u.ID, has)
		}
	}
	if _, err := DrawUnit(plan, "U9"); err == nil || !strings.Contains(err.Error(), `no unit "U9"`) {
		t.Errorf("U9: %v", err)
	}
}

func TestSameBytesTwice(t *testing.T) {
	p, plan := made(t, "HESX", shop.Spec{Colour: "blue"})
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := pdf.EncodeBook(w, Draw(p, plan)); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two runs differ")
	}
	pages := fmt.Sprintf("/Count %d", len(Draw(p, plan)))
	if !bytes.Contains(a.Bytes(), []byte(pages)) {
		t.Errorf("the file has not %s", pages)
	}
}

// The head of a column is one line on the narrowest paper: no table has it broken
// within a word or in two.
func TestHeadsOfColumnsAreWhole(t *testing.T) {
	wide, _ := paper("")
	half := (&book{wide: wide}).half()
	seen := 0
	for name, spec := range cases() {
		_, plan := made(t, "HESX", spec)
		for _, s := range plan.Sections {
			if s.Grid == nil {
				continue
			}
			seen++
			width := half
			if s.ID == "units" {
				width = wide - 2*margin
			}
			head := gridLine(s.Grid, s.Grid.Heads, sheet.Bold, width)
			if head.height > bodyLine || len(head.items) != len(s.Grid.Heads) {
				t.Errorf("%s: %s: the heads %q are broken", name, s.ID, s.Grid.Heads)
			}
		}
	}
	if seen == 0 {
		t.Error("no table was seen")
	}
}
