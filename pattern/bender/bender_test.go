package bender_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bender"
	"tubewright/pattern/finding"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/tube"
	"tubewright/pattern/words"
)

func options(t testing.TB, language string) bender.Options {
	t.Helper()
	w, err := words.In(language)
	if err != nil {
		t.Fatal(err)
	}
	return bender.Options{Format: paper.Format{Size: paper.Sizes()[0], Margin: paper.Margin, Words: w}}
}

func book(t testing.TB, p pattern.Pattern, o bender.Options) sheet.Book {
	t.Helper()
	b, err := bender.Book(p, pattern.Draw(p), o)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func texts(p sheet.Page) []sheet.Text {
	var out []sheet.Text
	for _, l := range p.Layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				if t, ok := i.(sheet.Text); ok {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// On no page, in no language, does text run over text or off what a printer marks.
func TestTextStandsClearOnEveryPage(t *testing.T) {
	p := patterntest.WithFindings(patterntest.Word("HEXS", 40, 1))
	for _, language := range words.Languages() {
		for _, tiled := range []bool{false, true} {
			o := options(t, language)
			o.Tiled = tiled
			b := book(t, p, o)
			tiles, err := bender.Tiles(p, pattern.Draw(p), o)
			if err != nil {
				t.Fatal(err)
			}
			for _, page := range append(b.Pages, tiles.Pages...) {
				inner := geom.Rect{Max: geom.Point{X: page.Width, Y: page.Height}}.Grown(-paper.Margin + 0.5)
				all := texts(page)
				for i, a := range all {
					if r := a.Bounds(); !inner.Contains(r.Min) || !inner.Contains(r.Max) {
						t.Errorf("%s %s: %q reaches to %v", language, page.Label, a.Text, r)
					}
					if sheet.CapHeight(a.Size) < 2.5 {
						t.Errorf("%s %s: %q is %.2f mm high", language, page.Label, a.Text, sheet.CapHeight(a.Size))
					}
					for _, c := range all[:i] {
						if a.Bounds().Overlaps(c.Bounds()) {
							t.Errorf("%s %s: %q over %q", language, page.Label, a.Text, c.Text)
						}
					}
				}
			}
		}
	}
}

// Every page has rulers of exactly 100 mm and 4 in on both axes.
func TestRulersOnEveryPage(t *testing.T) {
	p := patterntest.Word("HE", 40, 1)
	for _, page := range book(t, p, options(t, "")).Pages {
		for _, l := range page.Layers {
			if l.ID != "scale" {
				continue
			}
			x, y := l.Groups[0].Items[0].Bounds(), l.Groups[1].Items[0].Bounds()
			if math.Abs(x.Width()-101.6) > 1e-9 || math.Abs(y.Height()-101.6) > 1e-9 {
				t.Errorf("%s: rulers of %v and %v mm", page.Label, x.Width(), y.Height())
			}
			if tooth(l.Groups[0].Items[0], false) != 100 || tooth(l.Groups[1].Items[0], true) != 100 {
				t.Errorf("%s: the last of the millimetres stands at %v and %v", page.Label, tooth(l.Groups[0].Items[0], false), tooth(l.Groups[1].Items[0], true))
			}
		}
	}
}

// tooth returns how far from the ruler's start the middle of its farthest long tooth
// of millimetres is.
func tooth(i sheet.Item, up bool) float64 {
	s := i.(sheet.Shape)
	box, best := s.Bounds(), 0.0
	for _, p := range s.Paths {
		b := p.Bounds()
		along, across, at := b.Width(), b.Height(), b.Centre().X-box.Min.X
		mm := b.Min.Y > box.Min.Y+1 // the side of the millimetres
		if up {
			along, across, at = b.Height(), b.Width(), b.Centre().Y-box.Min.Y
			mm = b.Max.X < box.Max.X-1
		}
		if along < 1 && across > 2.9 && mm {
			best = max(best, math.Round(at*1e6)/1e6)
		}
	}
	return best
}

// Links lead to the first page of their unit, and every unit has one.
func TestLinksLeadToUnits(t *testing.T) {
	p := patterntest.Word("HEXS", 40, 1)
	b := book(t, p, options(t, ""))
	var to []string
	for _, page := range b.Pages {
		for _, l := range page.Links {
			to = append(to, b.Pages[l.Page].Label)
		}
	}
	var want []string
	for _, u := range p.Units {
		want = append(want, u.ID+"-1")
	}
	if fmt.Sprint(to) != fmt.Sprint(want) {
		t.Errorf("links lead to %v, want %v", to, want)
	}
}

// The hidden stretches add up to the hidden glass and lie where it is.
func TestBlockOutIsTheHiddenGlass(t *testing.T) {
	for _, u := range patterntest.Word("HEXS", 40, 1).Units {
		sum, last := 0.0, 0.0
		for _, s := range bender.BlockOut(u.Tube) {
			if s.From < last || s.To <= s.From {
				t.Errorf("%s: span %v after %v", u.ID, s, last)
			}
			sum, last = sum+s.To-s.From, s.To
		}
		if math.Abs(sum-u.Tube.LengthOf(tube.Hidden)) > 1e-9 {
			t.Errorf("%s: %.3f mm blocked out of %.3f hidden", u.ID, sum, u.Tube.LengthOf(tube.Hidden))
		}
	}
}

// What the job says is printed and no longer missing; what nobody says is reported.
func TestFields(t *testing.T) {
	p := patterntest.Word("HE", 40, 1)
	o := options(t, "")
	before := len(o.Blanks(p))
	facts, err := bender.ParseFacts("buyer = Rye & Salt, Kiln Lane 3; U1 painter = the bender; 41 = loose glass")
	if err != nil {
		t.Fatal(err)
	}
	o.Facts = facts
	if got := len(o.Blanks(p)); got != before-2 { // U2 still has no painter
		t.Errorf("%d missing with two fields of the job given, %d without", got, before)
	}
	var all strings.Builder
	for _, page := range book(t, p, o).Pages {
		for _, w := range texts(page) {
			all.WriteString(w.Text + " ")
		}
	}
	for _, want := range []string{"Rye & Salt, Kiln Lane 3", "the bender", "loose glass", "28. Block-out: who paints (U2)"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("%q is not in the book", want)
		}
	}
	for _, n := range []int{1, 9, 16, 26, 35, 45} {
		if !strings.Contains(all.String(), fmt.Sprintf("%d. ", n)) {
			t.Errorf("field %d is not in the book", n)
		}
	}
	for _, bad := range []string{"buyer", "byer = x", "46 = x", "buyer ="} {
		if _, err := bender.ParseFacts(bad); err == nil {
			t.Errorf("%q is taken", bad)
		}
	}
}

// All blanks make one note, and one list in the book in its language, with the keys
// that the setting order takes; with every blank said there is neither.
func TestBlanksAreOneNote(t *testing.T) {
	p := patterntest.Word("HE", 40, 1)
	o := options(t, "de")
	w := o.Format.Words
	o.Facts, _ = bender.ParseFacts("U1 painter = the bender")
	got := o.Findings(p)
	if len(got) != 1 || got[0].Code != "blank-fields" || got[0].Severity != finding.Note || got[0].Remedy == "" {
		t.Fatalf("got %+v", got)
	}
	if m := got[0].Message(); !strings.HasPrefix(m, "bender.pdf: fields that a remote bender needs are blank: 1 order-number, 2 buyer, ") || !strings.Contains(m, ", 28 painter (U2), ") {
		t.Errorf("the note says %s", m)
	}
	var all strings.Builder
	for _, page := range book(t, p, o).Pages {
		for _, k := range texts(page) {
			all.WriteString(k.Text + " ")
		}
	}
	for _, b := range o.Blanks(p) {
		if want := w.Say(fmt.Sprintf("field.%d", b.Number)); !strings.Contains(all.String(), want) || !strings.Contains(all.String(), ": "+b.Key+" ") {
			t.Errorf("%q, %s, is not in the list of blanks", want, b.Key)
		}
		more, err := bender.ParseFacts(b.Key + " = said")
		if err != nil {
			t.Fatalf("%s is not taken by order: %v", b.Key, err)
		}
		o.Facts = append(o.Facts, more...)
	}
	if got := o.Findings(p); len(got) != 0 {
		t.Errorf("with all said: %+v", got)
	}
}

func TestSameBytes(t *testing.T) {
	p := patterntest.Word("HEXS", 40, 1)
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := pdf.EncodePages(w, book(t, p, options(t, "ja"))); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two runs differ")
	}
}

func BenchmarkAllSheetsOfTenLetters(b *testing.B) { all(b, "HEXSHEXSHE") }

func BenchmarkAllSheetsOfAHundredLetters(b *testing.B) { all(b, strings.Repeat("HEXS", 25)) }

func all(b *testing.B, text string) {
	p := patterntest.Word(text, 40, 1)
	o := options(b, "")
	b.ReportAllocs()
	for b.Loop() {
		drawn := pattern.Draw(p)
		tiles, err := bender.Tiles(p, drawn, o)
		if err != nil {
			b.Fatal(err)
		}
		var w bytes.Buffer
		for _, k := range []sheet.Book{tiles, book(b, p, o)} {
			if err := pdf.EncodePages(&w, k); err != nil {
				b.Fatal(err)
			}
		}
	}
}
