package paper

import (
	"testing"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

// What stands beside the ruler is there in full, in every language, on the smallest
// paper, corrected or not.
func TestRulerWordsFit(t *testing.T) {
	for _, language := range words.Languages() {
		w, err := words.In(language)
		if err != nil {
			t.Fatal(err)
		}
		for _, size := range append(Sizes(), Sizes()[0].Turned()) {
			for _, r := range []Readings{{}, {99.65, 100.35}} {
				f := Format{Size: size, Margin: Margin, Words: w, Readings: r}
				say := w.Say("ruler.check")
				if c := f.Correction(); c != "" {
					say = c
				}
				box := f.printable()
				lines := sheet.Wrap(say, sheet.MinSize, sheet.Regular, box.Max.X-box.Min.X-leftWide-118)
				if len(lines) > wordLines {
					t.Errorf("%s on %s: %d lines: %q", language, size.Name, len(lines), lines)
				}
			}
		}
	}
}

// Rows go on to a next page before they run off one, and a row that is to stay with
// the next goes with it.
func TestFlow(t *testing.T) {
	f := &Flow{Format: Format{Size: Sizes()[0], Margin: Margin}}
	f.Start("title", "mark", 0)
	high := f.Format.Area().Height()
	f.Add(Row{Height: high - 10}, Row{Height: 6, Keep: true, Items: []sheet.Item{text(0, -4, "head", bodySize, sheet.Bold, sheet.Start)}}, Row{Height: 5})
	pages := f.Pages(Numbers("", 1))
	if len(pages) != 2 || pages[1].Page.Label != "2" || pages[0].Page.Bookmark != "mark" || pages[1].Page.Bookmark != "" {
		t.Fatalf("%d pages", len(pages))
	}
	notes, _ := pages[1].Page.Layer("notes")
	if len(notes.Groups[0].Items) != 1 {
		t.Error("the head stayed on the page before")
	}
}

// A page with readings is laid out on paper that the stretch makes the true size.
func TestAreaIsTrue(t *testing.T) {
	f := Format{Size: Sizes()[0], Margin: 10, Readings: Readings{X: 98, Y: 101}}
	p := f.Page("x", "1")
	x, y := p.Stretch.Factors()
	for _, k := range []struct{ got, want float64 }{{p.Width * x, 210}, {p.Height * y, 297}, {x * 98, 100}, {y * 101, 100}} {
		if d := k.got - k.want; d > 1e-9 || d < -1e-9 {
			t.Errorf("%v, want %v", k.got, k.want)
		}
	}
	if !f.printable().Grown(1e-9).Contains(f.Area().Min) || (f.printable() == geom.Rect{}) {
		t.Error("the area is not where a printer marks")
	}
}

// A table that goes on over a page has its heads on every page, and neither they nor
// its last row stand alone.
func TestTableOverPages(t *testing.T) {
	const all = 97
	var cells [][]string
	for range all {
		cells = append(cells, []string{"cell"})
	}
	for _, before := range []float64{0, 5, 205, 215, 225} {
		f := &Flow{Format: Format{Size: Sizes()[0], Margin: Margin}}
		f.Start("title", "mark", 0)
		f.Add(Row{Height: before})
		f.Add(Table([]Column{{Head: "head", Share: 1}}, cells, f.Width())...)
		sum := 0
		for i, k := range f.Pages(Numbers("", 1)) {
			notes, _ := k.Page.Layer("notes")
			count := map[string]int{}
			for _, item := range notes.Groups[0].Items {
				if x, ok := item.(sheet.Text); ok {
					count[x.Text]++
				}
			}
			sum += count["cell"]
			if count["cell"] > 0 && (count["head"] != 1 || count["cell"] < together) || count["head"] > 0 && count["cell"] == 0 {
				t.Errorf("after %g mm, page %d: %v", before, i+1, count)
			}
		}
		if sum != all {
			t.Errorf("after %g mm: %d rows of %d", before, sum, all)
		}
	}
}
