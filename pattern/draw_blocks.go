package pattern

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"tubewright/geom"
	"tubewright/pattern/sheet"
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
	b.paragraph(nameColumn, value, sheet.Regular)
	b.height = max(b.height, top+bodyLine)
}

// nameColumn is where the values of a title block start, mm.
const nameColumn = 24.0

func (d *drawing) titleBlock() *block {
	b := newBlock("notes-title", d.say("pattern.title"))
	s, r := d.p.Spec, d.p.Spec.Rules
	mm := func(v float64) string { return d.w.Number(v, 1) }
	if s.Name != "" {
		b.entry(d.say("pattern.job"), s.Name)
	}
	b.entry(d.say("pattern.text"), strings.Join(s.Text, " / "))
	for _, f := range d.print.Facts {
		b.entry(f.Name, f.Value)
	}
	if s.Font != "" {
		b.entry(d.say("pattern.face"), s.Font)
	}
	b.entry(d.say("pattern.height"), d.say("pattern.heightof", mm(s.Height)))
	b.entry(d.say("pattern.tube"), d.say("pattern.tubeof", mm(r.Diameter), mm(r.MinRadius), mm(r.Clearance)))
	total := 0.0
	for _, u := range d.p.Units {
		total += u.Tube.Length()
	}
	b.entry(d.say("pattern.glass"), d.say("pattern.glassof", fmt.Sprint(len(d.p.Units)), d.w.Number(total/1000, 2)))
	b.entry(d.say("pattern.scale"), d.say("pattern.scaleof"))
	return b
}

// frameBlock says which way round the sheet is, in words, by a word that must
// read right, and by a letter that must read backwards as the lettering does.
func (d *drawing) frameBlock() *block {
	b := newBlock("notes-frame", d.say("pattern.frame"))
	b.paragraph(0, d.say("pattern.framewords"), sheet.Regular)
	b.height += 14
	b.text(0, "BENCH", 12, sheet.Bold, sheet.Start)
	x := sheet.Room*sheet.Width("BENCH", 12, sheet.Bold) + 3
	y := -b.height + 4.3
	b.shape(sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{X: x, Y: y}, geom.Point{X: x + 12, Y: y})}, Pen: solid(1)})
	b.shape(sheet.Shape{Paths: []geom.Path{sheet.Polygon(geom.Point{X: x + 17, Y: y}, geom.Point{X: x + 11, Y: y + 2.4}, geom.Point{X: x + 11, Y: y - 2.4})}, Fill: sheet.Grey(0)})
	const right = 72.0 // where the words about the F start
	const fx = right + 7
	f := func(dx, dy float64) geom.Point { return geom.Point{X: fx + dx, Y: -b.height + dy} }
	b.shape(sheet.Shape{Pen: solid(1.4), Paths: []geom.Path{ // its stem on its right: mirrored
		sheet.Polyline(f(-5.4, 8.3), f(0, 8.3), f(0, 0)), sheet.Polyline(f(0, 4.5), f(-4, 4.5)),
	}})
	b.height += 1.5
	b.columns(right, d.say("pattern.framearrow"), d.say("pattern.framef"))
	return b
}

// columns writes two texts side by side, the second from x on.
func (b *block) columns(x float64, left, right string) {
	ls, rs := sheet.Wrap(left, bodySize, sheet.Regular, x-6), sheet.Wrap(right, bodySize, sheet.Regular, columnWidth-x)
	for i := range max(len(ls), len(rs)) {
		b.height += bodyLine
		if i < len(ls) {
			b.text(0, ls[i], bodySize, sheet.Regular, sheet.Start)
		}
		if i < len(rs) {
			b.text(x, rs[i], bodySize, sheet.Regular, sheet.Start)
		}
	}
}

// scaleBlock holds bars of 100 mm and 4 in along both axes, and room to write down
// what they measure.
func (d *drawing) scaleBlock(id string) *block {
	b := newBlock(id, d.say("bars.title"))
	const x0, tall = 8.0, 101.6
	b.height += 4
	y0 := -b.height - tall - 6 // of the lower ends of the upright bars
	bars := []struct {
		at     geom.Point
		length float64
		parts  int
		upward bool
		label  string
	}{
		{geom.Point{X: x0 + 8, Y: y0 - 2}, 100, 10, false, "bars.mmacross"},
		{geom.Point{X: x0 + 8, Y: y0 - 12}, 101.6, 4, false, "bars.inacross"},
		{geom.Point{X: x0, Y: y0 + 4}, 100, 10, true, "bars.mmup"},
		{geom.Point{X: x0 + 12, Y: y0 + 4}, 101.6, 4, true, "bars.inup"},
	}
	for _, k := range bars {
		b.shape(sheet.Shape{Paths: scaleBar(k.at, k.length, k.parts, k.upward), Fill: sheet.Grey(0)})
		t := sheet.Text{Text: d.say(k.label), Size: bodySize, Colour: sheet.Grey(0), Anchor: sheet.Middle}
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
	if d.print.Correction != "" {
		b.paragraph(wordsX, d.print.Correction, sheet.Bold)
		b.height += 2
	}
	for _, k := range []string{"bars.words1", "bars.words2", "bars.words3"} {
		b.paragraph(wordsX, d.say(k), sheet.Regular)
		b.height += 2
	}
	b.height += 2
	for _, k := range []string{"bars.mmacross", "bars.mmup"} {
		b.height += 7.5
		name := d.say(k) + " ="
		b.text(wordsX, name, bodySize, sheet.Bold, sheet.Start)
		b.text(columnWidth, "mm", bodySize, sheet.Regular, sheet.End)
		y := -b.height - 0.6
		b.shape(sheet.Shape{Pen: solid(thinLine), Paths: []geom.Path{sheet.Polyline(geom.Point{X: wordsX + sheet.Room*sheet.Width(name, bodySize, sheet.Bold) + 2, Y: y}, geom.Point{X: columnWidth - 8, Y: y})}})
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
	heads, rows, sum := UnitRows(d.p, d.w)
	right := make([]float64, len(heads)) // edges of the columns of numbers
	edge := columnWidth
	for c := len(heads) - 1; c >= 2; c-- {
		right[c] = edge
		edge -= max(sheet.Width(heads[c], bodySize, sheet.Bold), sheet.Width(sum[c], bodySize, sheet.Bold))*sheet.Room + 2.5
	}
	letters := sheet.Room*sheet.Width(heads[0], bodySize, sheet.Bold) + 3.5
	row := func(b *block, f sheet.Font, cells []string) {
		b.height += bodyLine
		b.text(0, cells[0], bodySize, f, sheet.Start)
		b.text(letters, clipped(sheet.Printable(cells[1]), edge-letters), bodySize, f, sheet.Start)
		for c := 2; c < len(cells); c++ {
			b.text(right[c], cells[c], bodySize, f, sheet.End)
		}
	}
	var out []*block
	for i, cells := range rows {
		if i%tableRows == 0 {
			title := d.say("units.mm")
			if i > 0 {
				title = d.say("continued", title)
			}
			out = append(out, newBlock(fmt.Sprintf("notes-units-%d", i/tableRows+1), title))
			row(out[len(out)-1], sheet.Bold, heads)
		}
		row(out[len(out)-1], sheet.Regular, cells)
	}
	if len(rows) > 1 {
		row(out[len(out)-1], sheet.Bold, sum)
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

func (d *drawing) cautionBlock() *block {
	b := newBlock("notes-caution", d.say("caution"))
	for _, k := range []string{"caution.glass", "caution.voltage", "caution.fill", "caution.code"} {
		b.paragraph(0, d.say(k), sheet.Regular)
		b.height += 1
	}
	return b
}
