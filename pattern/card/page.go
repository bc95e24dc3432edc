package card

import (
	"fmt"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
)

// A4 upright, mm.
const (
	pageWide = 210.0
	pageHigh = 297.0
	margin   = 11.0
	inner    = pageWide - 2*margin
)

// Sizes of lettering (em, mm) and widths of lines.
const (
	huge     = 11.0
	large    = 5.4
	text     = 4.2
	small    = 3.6
	lineGap  = 1.28 // of the em, from line to line
	wideLine = 0.6
	thinLine = 0.25
)

func black(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: sheet.Grey(0)} }

// writer fills the pages of one unit from the top down.
type writer struct {
	p     pattern.Pattern
	u     pattern.Unit
	pages []*sheet.Sheet
	y     float64 // lower edge of what is written
	items []sheet.Item
}

// Pages returns the bend cards of all units, in order, one or more pages a unit.
func Pages(p pattern.Pattern) []*sheet.Sheet {
	var out []*sheet.Sheet
	for _, u := range p.Units {
		w := &writer{p: p, u: u}
		w.open()
		w.facts()
		w.sticks()
		w.heats()
		w.table()
		w.close()
		for i, s := range w.pages {
			s.Layers[0].Groups[0].Items = append(s.Layers[0].Groups[0].Items,
				line(pageWide-margin, margin-6, fmt.Sprintf("%s, page %d of %d", u.ID, i+1, len(w.pages)), small, sheet.Regular, sheet.End))
		}
		out = append(out, w.pages...)
	}
	return out
}

func line(x, y float64, s string, size float64, f sheet.Font, a sheet.Anchor) sheet.Text {
	return sheet.Text{At: geom.Point{X: x, Y: y}, Text: sheet.Printable(s), Size: size, Font: f, Anchor: a, Colour: sheet.Grey(0)}
}

func rule(x0, y0, x1, y1, width float64) sheet.Shape {
	return sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{X: x0, Y: y0}, geom.Point{X: x1, Y: y1})}, Pen: black(width)}
}

func (w *writer) add(items ...sheet.Item) { w.items = append(w.items, items...) }

// open starts a page with the headline.
func (w *writer) open() {
	top := pageHigh - margin
	name := w.p.Spec.Name
	w.add(
		line(margin, top-sheet.CapHeight(huge), w.u.ID, huge, sheet.Bold, sheet.Start),
		line(margin+34, top-sheet.CapHeight(large), "Bend card", large, sheet.Bold, sheet.Start),
		line(margin+34, top-sheet.CapHeight(large)-6.2, name, text, sheet.Regular, sheet.Start),
		line(pageWide-margin, top-sheet.CapHeight(large), "BENCH: face down, mirrored", large, sheet.Bold, sheet.End),
		line(pageWide-margin, top-sheet.CapHeight(large)-6.2, fmt.Sprintf("tube %s mm", mm(w.p.Spec.Rules.Diameter, 2)), text, sheet.Regular, sheet.End),
	)
	w.y = top - 13
	w.add(rule(margin, w.y, pageWide-margin, w.y, wideLine))
	w.y -= 2
	w.add(line(margin, margin-6, "Hot glass looks like cold glass. Wear eye protection, keep the fire ventilated.", small, sheet.Regular, sheet.Start))
}

// close ends the page.
func (w *writer) close() {
	id := fmt.Sprintf("card-%s-%d", w.u.ID, len(w.pages)+1)
	w.pages = append(w.pages, &sheet.Sheet{
		Width: pageWide, Height: pageHigh, Frame: sheet.Bench,
		Title:       "Bend card of unit " + w.u.ID,
		Description: "Sticks with marks, heats in the order of making, bend table. Seen on the bench, face down.",
		Layers:      []sheet.Layer{{ID: id, Name: "Bend card", Groups: []sheet.Group{{ID: id + "-all", Title: "Bend card", Items: w.items}}}},
	})
	w.items = nil
}

// room makes sure that high mm are free, on a new page if need be.
func (w *writer) room(high float64) {
	if w.y-high < margin {
		w.close()
		w.open()
	}
}

// heading writes the title of a part, with room for high mm after it.
func (w *writer) heading(s string, high float64) {
	w.room(9 + high)
	w.y -= 7
	w.add(line(margin, w.y, s, large, sheet.Bold, sheet.Start))
	w.y -= 2
}

// lines writes wrapped text below y and returns the lower edge.
func (w *writer) lines(x, y, width float64, s string, size float64, f sheet.Font) float64 {
	for _, l := range sheet.Wrap(sheet.Printable(s), size, f, width) {
		y -= size * lineGap
		w.add(line(x, y, l, size, f, sheet.Start))
	}
	return y
}

func mm(v float64, decimals int) string { return geom.FormatNumber(v, decimals) }
