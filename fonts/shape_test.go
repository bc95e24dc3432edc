package fonts

import (
	"errors"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"sync"
	"testing"
	"unicode/utf8"

	"tubewright/geom"
)

func mustShape(t testing.TB, f *Face, text string, opt ShapeOptions) []Glyph {
	t.Helper()
	glyphs, err := f.Shape(text, opt)
	if err != nil {
		t.Fatalf("%s, %q: %v", f.Name(), text, err)
	}
	return glyphs
}

// unit sets text at one unit of the font to the millimetre.
func unit(f *Face) ShapeOptions { return ShapeOptions{Size: float64(f.Metrics().UnitsPerEm)} }

// textFor returns letters the face has, three words of them.
func textFor(name string) string {
	switch name {
	case "noto-kufi-arabic-extralight":
		return "خبز وملح الليل"
	case "greeks":
		return "αλατι και ψωμι"
	}
	return "Rye & Salt"
}

func ids(glyphs []Glyph) string {
	s := make([]string, len(glyphs))
	for i, g := range glyphs {
		s[i] = fmt.Sprint(g.ID)
	}
	return strings.Join(s, " ")
}

// TestSplitAtSpace: a line is as wide as its pieces where it is cut at spaces,
// and in a left-to-right face their glyphs come one after the other.
func TestSplitAtSpace(t *testing.T) {
	for _, i := range Builtin() {
		f := mustOpen(t, i.Name)
		text := textFor(i.Name)
		want := mustShape(t, f, text, unit(f))
		sum, glyphs := 0.0, 0
		for _, piece := range strings.SplitAfter(text, " ") {
			part := mustShape(t, f, piece, unit(f))
			sum += Width(part)
			glyphs += len(part)
		}
		// Kerning between a letter and the space before it is lost by the cut.
		if glyphs != len(want) || math.Abs(sum-Width(want)) > 0.02*Width(want) {
			t.Errorf("%s: %d glyphs, %g units wide; in pieces %d and %g", i.Name, len(want), Width(want), glyphs, sum)
		}
		if f.IsSingleLine() && sum != Width(want) {
			t.Errorf("%s has no kerning, yet is %g wide whole and %g in pieces", i.Name, Width(want), sum)
		}
	}
}

// TestKerning: AV sits closer than its letters apart. For Jura the figures are
// those of hb-shape 6.0.0: A and V are 597 units each, A before V is 567.
func TestKerning(t *testing.T) {
	for _, name := range []string{"comfortaa-light", "quicksand-light", "league-spartan-extralight", "jura-light"} {
		f := mustOpen(t, name)
		pair := Width(mustShape(t, f, "AV", unit(f)))
		apart := Width(mustShape(t, f, "A", unit(f))) + Width(mustShape(t, f, "V", unit(f)))
		if pair >= apart {
			t.Errorf("%s: AV is %g units wide, A and V %g", name, pair, apart)
		}
		if name == "jura-light" && (apart != 2*597 || pair != 567+597) {
			t.Errorf("jura-light: AV is %g units wide, A and V %g; want 1164 and 1194", pair, apart)
		}
		off := unit(f)
		off.Features = []string{"-kern"}
		if got := Width(mustShape(t, f, "AV", off)); got != apart {
			t.Errorf("%s: AV without kerning is %g units wide, A and V %g", name, got, apart)
		}
	}
}

// TestContextualForms: in a joined hand a letter takes the form its neighbours
// ask for, and connectors appear; without the feature it does neither.
func TestContextualForms(t *testing.T) {
	f := mustOpen(t, "playwrite-de-la-thin")
	whole := mustShape(t, f, "vow", unit(f))
	apart := ""
	for _, r := range "vow" {
		apart = strings.TrimSpace(apart + " " + ids(mustShape(t, f, string(r), unit(f))))
	}
	if ids(whole) == apart {
		t.Errorf("v, o and w are glyphs %s in the word and alone", apart)
	}
	off := unit(f)
	off.Features = []string{"-calt"}
	if got := ids(mustShape(t, f, "vow", off)); got != apart {
		t.Errorf("without contextual forms the word is glyphs %s, its letters alone %s", got, apart)
	}
}

// TestLigature: M PLUS draws "fi" as one glyph; spaced letters are never one.
func TestLigature(t *testing.T) {
	f := mustOpen(t, "m-plus-rounded-1c-light")
	opt := unit(f)
	if got := mustShape(t, f, "fi", opt); len(got) != 1 || got[0].Text != "fi" {
		t.Errorf("fi is %d glyphs, the first for %q", len(got), got[0].Text)
	}
	opt.LetterSpacing = 10
	if got := mustShape(t, f, "fi", opt); len(got) != 2 {
		t.Errorf("spaced fi is %d glyphs", len(got))
	}
}

// TestRightToLeft: Arabic comes out from left to right on the wall, last letter
// first, with joined forms, and numbers keep their own order.
func TestRightToLeft(t *testing.T) {
	f := mustOpen(t, "noto-kufi-arabic-extralight")
	glyphs := mustShape(t, f, "خبز", unit(f))
	for i := 1; i < len(glyphs); i++ {
		if glyphs[i].Cluster > glyphs[i-1].Cluster {
			t.Errorf("glyph %d stands for character %d after %d", i, glyphs[i].Cluster, glyphs[i-1].Cluster)
		}
	}
	if first, last := glyphs[0], glyphs[len(glyphs)-1]; first.Text != "ز" || last.Origin.X <= first.Origin.X {
		t.Errorf("%q lies at %g mm, %q at %g", first.Text, first.Origin.X, last.Text, last.Origin.X)
	}
	alone := ids(mustShape(t, f, "خ", unit(f)))
	if last := glyphs[len(glyphs)-1]; last.Text != "خ" || fmt.Sprint(last.ID) == alone {
		t.Errorf("the first letter %q is glyph %d at the right, and alone %s", last.Text, last.ID, alone)
	}
	var number string
	for _, g := range mustShape(t, f, "خبز ٢٤", unit(f)) {
		if g.Text == "٢" || g.Text == "٤" {
			number += g.Text
		}
	}
	if number != "٢٤" {
		t.Errorf("the number reads %s", number)
	}
}

// TestScale: twice the size is twice every length, to the last bit.
func TestScale(t *testing.T) {
	for _, i := range Builtin() {
		f := mustOpen(t, i.Name)
		a := mustShape(t, f, textFor(i.Name), ShapeOptions{Size: 70, LetterSpacing: 0})
		b := mustShape(t, f, textFor(i.Name), ShapeOptions{Size: 140, LetterSpacing: 0})
		for k, g := range a {
			double := geom.Scaling(2, geom.Vec{})
			if b[k].Advance != 2*g.Advance || b[k].Origin != double.Apply(g.Origin) {
				t.Errorf("%s glyph %d: advance %g and %g", i.Name, k, g.Advance, b[k].Advance)
			}
			if len(g.Outline) > 0 && !reflect.DeepEqual(b[k].Outline, g.Outline.Transform(double)) {
				t.Errorf("%s glyph %d: the outline is not twice as large", i.Name, k)
			}
			for s, p := range g.Strokes {
				if d := math.Abs(b[k].Strokes[s].Length() - 2*p.Length()); d > 1e-9 {
					t.Errorf("%s glyph %d stroke %d: %g off twice the length", i.Name, k, s, d)
				}
			}
		}
	}
}

// TestLetterSpacing: n letters have n-1 gaps, shapes move and do not change.
func TestLetterSpacing(t *testing.T) {
	const d = 7.0
	for _, i := range Builtin() {
		f := mustOpen(t, i.Name)
		text := textFor(i.Name)
		spaced, err := f.Shape(text, ShapeOptions{Size: 100, LetterSpacing: d, Features: []string{"liga"}})
		if i.Name == "noto-kufi-arabic-extralight" {
			if err == nil || !strings.Contains(err.Error(), "tear apart the joined letters") {
				t.Errorf("spaced Arabic: %v", err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		plain := mustShape(t, f, text, ShapeOptions{Size: 100})
		clusters := 0
		for k, g := range plain {
			if k > 0 && g.Cluster != plain[k-1].Cluster {
				clusters++
			}
			moved := geom.Vec{X: d * float64(clusters)}
			if v := spaced[k].Origin.Sub(g.Origin.Add(moved)); v.Norm() > 1e-9 || spaced[k].ID != g.ID {
				t.Errorf("%s glyph %d: %g mm from where spacing puts it", i.Name, k, v.Norm())
			}
			if len(g.Outline) != len(spaced[k].Outline) || len(g.Strokes) != len(spaced[k].Strokes) {
				t.Errorf("%s glyph %d changed its shape", i.Name, k)
			}
		}
		if got := Width(spaced) - Width(plain); math.Abs(got-d*float64(clusters)) > 1e-9 {
			t.Errorf("%s: %d gaps of %g mm add %g mm", i.Name, clusters, d, got)
		}
	}
}

// TestClusters: the clusters of a line cover its characters once, in order, and
// their texts put together are the text.
func TestClusters(t *testing.T) {
	for _, l := range paragraphs(t) {
		f := mustOpen(t, l.Face)
		texts := map[int]string{}
		for _, g := range mustShape(t, f, l.Text, ShapeOptions{Size: 10, Features: l.Features, Language: l.Language}) {
			if before, ok := texts[g.Cluster]; ok && before != g.Text {
				t.Errorf("cluster %d is %q and %q", g.Cluster, before, g.Text)
			}
			texts[g.Cluster] = g.Text
		}
		whole := ""
		for at := 0; texts[at] != ""; at += utf8.RuneCountInString(texts[at]) {
			whole += texts[at]
		}
		if whole != l.Text {
			t.Errorf("%s: the clusters of %q read %q", l.Face, l.Text, whole)
		}
	}
}

// TestPenNeverBacks: over every pair of letters after a capital, the pen moves
// on. The ligature "rs" in Vibur has an advance of -1535 units; in "Mrs" the
// letters must come apart instead.
func TestPenNeverBacks(t *testing.T) {
	letters := "abcdefghijklmnopqrstuvwxyz"
	for _, i := range Builtin() {
		if i.Kind == SingleLine || lacking[i.Name] != "" {
			continue
		}
		f := mustOpen(t, i.Name)
		for _, a := range letters {
			for _, b := range letters {
				glyphs := mustShape(t, f, "M"+string(a)+string(b), ShapeOptions{Size: 1})
				sums := map[int]float64{}
				for _, g := range glyphs {
					if sums[g.Cluster] += g.Advance; sums[g.Cluster] > 3 {
						t.Errorf("%s: %q is %g ems wide", i.Name, g.Text, sums[g.Cluster])
					}
				}
				for at, sum := range sums {
					if sum <= 0 {
						t.Errorf("%s, M%c%c: the pen moves %g ems at character %d", i.Name, a, b, sum, at)
					}
				}
			}
		}
	}
	if got := mustShape(t, mustOpen(t, "vibur"), "Mrs", ShapeOptions{Size: 1}); len(got) != 3 {
		t.Errorf("Mrs in Vibur is %d glyphs, want 3", len(got))
	}
}

func TestMissingCharacter(t *testing.T) {
	f := mustOpen(t, "vibur")
	_, err := f.Shape("Rye Жж & ЖЗ", ShapeOptions{Size: 100})
	var missing *MissingCharacter
	if !errors.As(err, &missing) || missing.Rune != 'Ж' || missing.Index != 4 || string(missing.Also) != "жЗ" {
		t.Fatalf("got %#v", err)
	}
	want := `face "vibur" has no character 'Ж' (U+0416), character 5 of the text; it also lacks 'ж' (U+0436), 'З' (U+0417); choose another face or other words`
	if err.Error() != want {
		t.Errorf("got  %s\nwant %s", err, want)
	}
	// Composed from a letter and an accent that the font has only together.
	if _, err := f.Shape("cafe\u0301", ShapeOptions{Size: 100}); err != nil {
		t.Error(err)
	}
	// Characters that are never drawn are never missing.
	if got := mustShape(t, f, "fj\u200cord\u200b\ufe0e", ShapeOptions{Size: 100}); len(got) < 5 {
		t.Errorf("%d glyphs", len(got))
	}
	_, err = mustOpen(t, "futural").Shape("Söl", ShapeOptions{Size: 100})
	if !errors.As(err, &missing) || missing.Rune != 'ö' || missing.Index != 1 {
		t.Errorf("got %v", err)
	}
}

func TestShapeRefuses(t *testing.T) {
	ok := ShapeOptions{Size: 100}
	for _, tc := range []struct {
		name, text string
		opt        ShapeOptions
		want       string
	}{
		{"line end", "Rye\nSalt", ok, "character 4 of the text is the control code U+000A"},
		{"tab", "Rye\tSalt", ok, "control code U+0009"},
		{"line separator", "Rye\u2028Salt", ok, "control code U+2028"},
		{"override", "Rye \u202eSalt", ok, "direction control U+202E: take it out"},
		{"isolate", "\u2067Rye", ok, "character 1 of the text is the direction control U+2067"},
		{"not UTF-8", "Rye \xe4 Salt", ok, "text is not UTF-8 at byte 5 (0xE4)"},
		{"long", strings.Repeat("a", MaxText+1), ok, "text of 5001 characters: at most 5000"},
		{"no size", "Rye", ShapeOptions{}, "size 0 mm to the em"},
		{"negative size", "Rye", ShapeOptions{Size: -1}, "size -1 mm"},
		{"size is no number", "Rye", ShapeOptions{Size: math.NaN()}, "size NaN mm"},
		{"endless size", "Rye", ShapeOptions{Size: math.Inf(1)}, "size +Inf mm"},
		{"spacing is no number", "Rye", ShapeOptions{Size: 1, LetterSpacing: math.NaN()}, "letter spacing NaN mm"},
		{"feature", "Rye", ShapeOptions{Size: 1, Features: []string{"no such feature"}}, `font feature "no such feature"`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			for _, name := range []string{"jura-light", "futural"} {
				glyphs, err := mustOpen(t, name).Shape(tc.text, tc.opt)
				if tc.name == "feature" && name == "futural" {
					continue // a single-line face has no features to misspell
				}
				if err == nil || glyphs != nil || !strings.Contains(err.Error(), tc.want) {
					t.Errorf("%s: got %v, want an error with %q", name, err, tc.want)
				}
			}
		})
	}
	if got := mustShape(t, mustOpen(t, "jura-light"), "", ok); len(got) != 0 {
		t.Errorf("an empty text gives %d glyphs", len(got))
	}
	if got := mustShape(t, mustOpen(t, "jura-light"), "   ", ok); len(got) != 3 || got[0].Outline != nil || got[0].Advance <= 0 {
		t.Errorf("three spaces give %v", got)
	}
}

// TestLongestText: the longest line allowed is set, in every face.
func TestLongestText(t *testing.T) {
	for _, i := range Builtin() {
		text := []rune(strings.Repeat(textFor(i.Name)+" ", MaxText))[:MaxText]
		if got := mustShape(t, mustOpen(t, i.Name), string(text), ShapeOptions{Size: 1}); len(got) < MaxText/2 {
			t.Errorf("%s: %d glyphs for %d characters", i.Name, len(got), MaxText)
		}
	}
}

// TestSharedFace: one face serves many goroutines, and each gets the same.
func TestSharedFace(t *testing.T) {
	f := mustOpen(t, "playwrite-de-la-thin")
	want := mustShape(t, f, "Open Late", ShapeOptions{Size: 100})
	var group sync.WaitGroup
	for range 8 {
		group.Go(func() {
			got, err := f.Shape("Open Late", ShapeOptions{Size: 100})
			if err != nil || !reflect.DeepEqual(got, want) {
				t.Errorf("another goroutine got other glyphs, or %v", err)
			}
		})
	}
	group.Wait()
}

// FuzzDamagedFont cuts a font short or changes some of its bytes, then shapes.
// Whatever comes back without an error is finite, made of the text, and keeps
// the laws of a line.
func FuzzDamagedFont(f *testing.F) {
	var fonts [][]byte
	var texts []string
	for _, i := range Builtin() {
		data, err := faceFiles.ReadFile("faces/" + i.File)
		if err != nil {
			f.Fatal(err)
		}
		if i.Kind == Outline {
			fonts, texts = append(fonts, data), append(texts, textFor(i.Name))
		}
	}
	for _, name := range []string{"Vibur-Regular.woff2", "LeagueSpartan-ExtraLight.woff2"} {
		data, err := os.ReadFile("../testdata/fonts/" + name)
		if err != nil {
			f.Fatal(err)
		}
		fonts, texts = append(fonts, data), append(texts, "Rye & Salt")
	}
	for i := range fonts {
		f.Add(uint8(i), uint32(0), uint64(0), []byte{})
		f.Add(uint8(i), uint32(1000), uint64(i), []byte{})
		f.Add(uint8(i), uint32(0), uint64(37+i), []byte("\x00\xff\x7f\x80"))
	}
	f.Fuzz(func(t *testing.T, which uint8, cut uint32, seed uint64, bytes []byte) {
		k := int(which) % len(fonts)
		data := damaged(fonts[k], cut, seed, bytes)
		face, err := Parse(data, "damaged")
		if err != nil {
			return
		}
		glyphs, err := face.Shape(texts[k], ShapeOptions{Size: 100, Language: "en"})
		if err != nil {
			return
		}
		checkLine(t, texts[k], glyphs)
	})
}

// damaged returns a copy without its last cut bytes, and with each of the given
// bytes put at a place that follows from the seed. Half of the places are in
// the first 4 kB, where the tables that steer the rest begin.
func damaged(font []byte, cut uint32, seed uint64, bytes []byte) []byte {
	data := append([]byte(nil), font[:len(font)-int(cut)%len(font)]...)
	for i, b := range bytes {
		seed = seed*6364136223846793005 + 1442695040888963407 // Knuth's MMIX generator
		n := len(data)
		if i%2 == 0 {
			n = min(n, 4096)
		}
		data[int(seed>>33)%n] = b
	}
	return data
}

func checkLine(t *testing.T, text string, glyphs []Glyph) {
	t.Helper()
	runes := []rune(text)
	pen := 0.0
	for i, g := range glyphs {
		if g.Cluster < 0 || g.Cluster >= len(runes) || !strings.HasPrefix(string(runes[g.Cluster:]), g.Text) || g.Text == "" {
			t.Errorf("glyph %d is for %q at character %d of %q", i, g.Text, g.Cluster, text)
		}
		if !g.Origin.IsFinite() || math.IsInf(g.Advance, 0) || math.IsNaN(g.Advance) || g.ID == 0 {
			t.Errorf("glyph %d: id %d at %v, advance %g", i, g.ID, g.Origin, g.Advance)
		}
		if box := g.Outline.ControlBox(); len(g.Outline) > 0 && !(box.Min.IsFinite() && box.Max.IsFinite()) {
			t.Errorf("glyph %d reaches from %v to %v", i, box.Min, box.Max)
		}
		pen += g.Advance
	}
	if w := Width(glyphs); w != pen {
		t.Errorf("the line is %g mm wide", w)
	}
}

func BenchmarkOpen(b *testing.B) {
	for b.Loop() {
		mustOpen(b, "playwrite-de-la-thin")
	}
}

func BenchmarkShape(b *testing.B) {
	f := mustOpen(b, "playwrite-de-la-thin")
	for b.Loop() {
		mustShape(b, f, "Open Late Bar", ShapeOptions{Size: 100})
	}
}
