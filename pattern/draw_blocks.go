package pattern

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/tube"
)

// Blocks of words stand in columns of one width.
const (
	columnWidth = 118.0
	bodySize    = sheet.MinSize
	bodyLine    = 5.0 // from baseline to baseline of body text
	headSize    = 5.0
	tableRows   = 25 // units in one block of the list
)

// A block is a piece of the sheet's words or signs, its top left corner at the
// origin, growing down.
type block struct {
	id, title string
	items     []sheet.Item
	height    float64
}

func newBlock(id, title string) *block {
	b := &block{id: id, title: title, height: headSize}
	b.text(0, title, headSize, sheet.Bold, sheet.Start)
	b.height += 1.6
	b.rule(glassLine)
	b.height += 1.4
	return b
}

// text puts a line at x with its baseline at the block's present height.
func (b *block) text(x float64, s string, size float64, f sheet.Font, a sheet.Anchor) {
	b.items = append(b.items, sheet.Text{At: geom.Point{X: x, Y: -b.height}, Text: s, Size: size, Font: f, Anchor: a, Colour: sheet.Grey(0)})
}

func (b *block) rule(width float64) {
	y := -b.height
	b.items = append(b.items, sheet.Shape{Pen: solid(width), Paths: []geom.Path{sheet.Polyline(geom.Point{Y: y}, geom.Point{X: columnWidth, Y: y})}})
}

func (b *block) shape(s sheet.Shape) { b.items = append(b.items, s) }

// paragraph wraps text from x to the right edge.
func (b *block) paragraph(x float64, text string, f sheet.Font) {
	for _, line := range sheet.Wrap(sheet.Printable(text), bodySize, f, columnWidth-x) {
		b.height += bodyLine
		b.text(x, line, bodySize, f, sheet.Start)
	}
}

// entry writes a name and, beside it, its wrapped value.
func (b *block) entry(name, value string) {
	top := b.height
	b.height += bodyLine
	b.text(0, name, bodySize, sheet.Bold, sheet.Start)
	b.height = top
	b.paragraph(22, value, sheet.Regular)
	b.height = max(b.height, top+bodyLine)
}

func millimetres(v float64) string { return geom.FormatNumber(v, 1) + " mm" }

func (d *drawing) titleBlock() *block {
	b := newBlock("notes-title", "Bending pattern, full size")
	s, r := d.p.Spec, d.p.Spec.Rules
	if s.Name != "" {
		b.entry("Job", s.Name)
	}
	b.entry("Text", strings.Join(s.Text, " / "))
	if s.Font != "" {
		b.entry("Face", s.Font)
	}
	b.entry("Height", millimetres(s.Height)+", outside, of the capital H")
	b.entry("Tube", fmt.Sprintf("%s outside (D); centreline radius %s or more; %s or more between glass and glass",
		millimetres(r.Diameter), millimetres(r.MinRadius), millimetres(r.Clearance)))
	total := 0.0
	for _, u := range d.p.Units {
		total += u.Tube.Length()
	}
	b.entry("Glass", fmt.Sprintf("%d %s, %s m of tube from seal to seal", len(d.p.Units), plural(len(d.p.Units), "unit", "units"), geom.FormatNumber(total/1000, 2)))
	b.entry("Scale", "1 : 1, all lengths in mm. Do not scale this print; measure both bars first.")
	return b
}

func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return many
}

// frameBlock says which way round the sheet is, in words, by a word that must
// read right, and by a letter that must read backwards as the lettering does.
func (d *drawing) frameBlock() *block {
	b := newBlock("notes-frame", "Frame: BENCH SIDE (mirrored)")
	b.paragraph(0, "Seen by the bender: the sign lies face down on this sheet, left and right changed over. Runs behind the face rise off the bench toward you.", sheet.Regular)
	b.height += 12
	b.text(0, "BENCH", 12, sheet.Bold, sheet.Start)
	x := sheet.Room*sheet.Width("BENCH", 12, sheet.Bold) + 3
	y := -b.height + 4.3
	b.shape(sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{X: x, Y: y}, geom.Point{X: x + 12, Y: y})}, Pen: solid(1)})
	b.shape(sheet.Shape{Paths: []geom.Path{sheet.Polygon(geom.Point{X: x + 17, Y: y}, geom.Point{X: x + 11, Y: y + 2.4}, geom.Point{X: x + 11, Y: y - 2.4})}, Fill: sheet.Grey(0)})
	const fx = 92.0 // stem of the F, on its right: mirrored
	f := func(dx, dy float64) geom.Point { return geom.Point{X: fx + dx, Y: -b.height + dy} }
	b.shape(sheet.Shape{Pen: solid(1), Paths: []geom.Path{
		sheet.Polyline(f(-5, 8.2), f(0, 8.2), f(0, 0)), sheet.Polyline(f(0, 4.4), f(-3.8, 4.4)),
	}})
	b.height += 1.5
	left := sheet.Wrap("Must read from left to right, the arrow pointing right.", bodySize, sheet.Regular, 68)
	right := sheet.Wrap("The lettering must read backwards, like this F.", bodySize, sheet.Regular, columnWidth-76)
	for i := range max(len(left), len(right)) {
		b.height += bodyLine
		if i < len(left) {
			b.text(0, left[i], bodySize, sheet.Regular, sheet.Start)
		}
		if i < len(right) {
			b.text(76, right[i], bodySize, sheet.Regular, sheet.Start)
		}
	}
	return b
}

// scaleBlock holds bars of 100 mm and 4 in along both axes.
func scaleBlock(id string) *block {
	b := newBlock(id, "Scale: measure before you bend")
	const x0, tall = 8.0, 101.6
	b.height += 4
	y0 := -b.height - tall - 6 // of the lower ends of the upright bars
	bars := []struct {
		name   string
		at     geom.Point
		length float64
		parts  int
		upward bool
		label  string
	}{
		{"x-100mm", geom.Point{X: x0 + 8, Y: y0 - 2}, 100, 10, false, "100 mm across"},
		{"x-4in", geom.Point{X: x0 + 8, Y: y0 - 12}, 101.6, 4, false, "4 in across"},
		{"y-100mm", geom.Point{X: x0, Y: y0 + 4}, 100, 10, true, "100 mm up"},
		{"y-4in", geom.Point{X: x0 + 12, Y: y0 + 4}, 101.6, 4, true, "4 in up"},
	}
	for _, k := range bars {
		b.shape(sheet.Shape{Paths: scaleBar(k.at, k.length, k.parts, k.upward), Fill: sheet.Grey(0)})
		t := sheet.Text{Text: k.label, Size: bodySize, Colour: sheet.Grey(0), Anchor: sheet.Middle}
		if k.upward {
			t.At, t.Turn = k.at.Add(geom.Vec{X: -2, Y: k.length / 2}), 90*geom.Degree
		} else {
			t.At = k.at.Add(geom.Vec{X: k.length / 2, Y: -4.5})
		}
		b.items = append(b.items, t)
	}
	const wordsX = x0 + 20
	top := b.height
	b.height += 2
	for _, s := range []string{
		"Lay a rule on all four bars. Each must be right to 0.2 mm, across and up.",
		"A bar that is wrong means the print was scaled, most often by 'fit to page': print again at 100 %, 'actual size'. A bar wrong in one direction only means the paper was stretched.",
		"Do not bend from a print that fails.",
	} {
		b.paragraph(wordsX, s, sheet.Regular)
		b.height += 2
	}
	b.height = max(top, -y0+12+5)
	return b
}

// scaleBar returns a bar of filled pieces, so that no pen adds to its length: a
// beam from end to end and teeth that share the parts; the end teeth stand
// inside the ends.
func scaleBar(at geom.Point, length float64, parts int, upward bool) []geom.Path {
	const beam, tooth, width = 0.6, 2.6, 0.25
	rect := func(a, b, c, d float64) geom.Path { // a..b along the bar, c..d across
		r := geom.Rect{Min: geom.Point{X: at.X + a, Y: at.Y + c}, Max: geom.Point{X: at.X + b, Y: at.Y + d}}
		if upward {
			r = geom.Rect{Min: geom.Point{X: at.X + c, Y: at.Y + a}, Max: geom.Point{X: at.X + d, Y: at.Y + b}}
		}
		return sheet.Rectangle(r)
	}
	out := []geom.Path{rect(0, length, 0, beam)}
	for i := range parts + 1 {
		x := length * float64(i) / float64(parts)
		x = min(max(x, width/2), length-width/2)
		high := tooth
		if i > 0 && i < parts {
			high = 0.6 * tooth
		}
		out = append(out, rect(x-width/2, x+width/2, 0, high))
	}
	return out
}

// unitBlocks list the units, a block for each 25 of them.
func (d *drawing) unitBlocks() []*block {
	var out []*block
	right := []float64{60, 75, 91, 105, columnWidth}
	row := func(b *block, f sheet.Font, unit, letters string, numbers ...string) {
		b.height += bodyLine
		b.text(0, unit, bodySize, f, sheet.Start)
		b.text(14, letters, bodySize, f, sheet.Start)
		for i, n := range numbers {
			b.text(right[i], n, bodySize, f, sheet.End)
		}
	}
	whole := func(v float64) string { return geom.FormatNumber(v, 0) }
	var sum [4]float64
	heats := 0
	for i, u := range d.p.Units {
		if i%tableRows == 0 {
			title := "Units, mm of glass"
			if i > 0 {
				title += ", continued"
			}
			out = append(out, newBlock(fmt.Sprintf("notes-units-%d", i/tableRows+1), title))
			row(out[len(out)-1], sheet.Bold, "Unit", "Letters", "glass", "lit", "hidden", "legs", "heats")
		}
		lengths := [4]float64{u.Tube.Length(), u.Tube.LengthOf(tube.Lit), u.Tube.LengthOf(tube.Hidden), u.Tube.LengthOf(tube.Leg)}
		for k, v := range lengths {
			sum[k] += v
		}
		heats += len(u.Heats)
		row(out[len(out)-1], sheet.Regular, u.ID, clipped(d.lettersOf(u), 30), whole(lengths[0]), whole(lengths[1]),
			whole(lengths[2]), whole(lengths[3]), fmt.Sprint(len(u.Heats)))
	}
	if len(d.p.Units) > 1 {
		row(out[len(out)-1], sheet.Bold, "all", "", whole(sum[0]), whole(sum[1]), whole(sum[2]), whole(sum[3]), fmt.Sprint(heats))
	}
	return out
}

// clipped shortens text to a width in mm, with an ellipsis.
func clipped(s string, width float64) string {
	width /= sheet.Room
	if sheet.Width(s, bodySize, sheet.Regular) <= width {
		return s
	}
	for s != "" && sheet.Width(s+"…", bodySize, sheet.Regular) > width {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
	}
	return s + "…"
}

func cautionBlock() *block {
	b := newBlock("notes-caution", "Caution")
	for _, s := range []string{
		"High voltage: a finished unit runs at voltages that kill. Hot glass looks like cold glass. Broken tube cuts; some fillings are poisonous.",
		"Local code and licensed people decide what may be built, connected and switched on. This program checks arithmetic, not compliance.",
	} {
		b.paragraph(0, s, sheet.Regular)
		b.height += 1
	}
	return b
}
