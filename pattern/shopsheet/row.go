package shopsheet

import (
	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
)

// Sizes in mm. Text has capitals 2.5 mm high, the least a sheet may have.
const (
	margin    = 12.0
	bodySize  = sheet.MinSize
	bodyLine  = 4.6 // from baseline to baseline
	titleSize = 5.0
	rowGap    = 0.9
	thinLine  = 0.18
	wideLine  = 0.35
)

// row is a piece of a page that is not broken, its top left corner at the origin,
// growing down.
type row struct {
	items  []sheet.Item
	height float64
}

func black() sheet.Colour { return sheet.Grey(0) }
func grey() sheet.Colour  { return sheet.Grey(90) }

func (r *row) text(x, y float64, s string, f sheet.Font, a sheet.Anchor, c sheet.Colour) {
	r.items = append(r.items, sheet.Text{At: geom.Point{X: x, Y: -y}, Text: s, Size: bodySize, Font: f, Anchor: a, Colour: c})
}

func (r *row) line(x0, y0, x1, y1, width float64) {
	r.items = append(r.items, sheet.Shape{Pen: sheet.Pen{Width: width, Colour: black()},
		Paths: []geom.Path{sheet.Polyline(geom.Point{X: x0, Y: -y0}, geom.Point{X: x1, Y: -y1})}})
}

// wrapped writes text from x on, at most width wide, from the top of the row, and
// returns how far down it goes.
func (r *row) wrapped(x, width float64, s string, f sheet.Font, c sheet.Colour) float64 {
	y := 0.0
	for _, line := range sheet.Wrap(sheet.Printable(s), bodySize, f, width) {
		y += bodyLine
		r.text(x, y-1.1, line, f, sheet.Start, c)
	}
	return y
}

// Columns of a figure: its name, its value, its rule and source.
const (
	nameShare  = 0.33
	valueShare = 0.23
	columnGap  = 3.0
)

// figureRow writes one figure over a width: name, value, and the rule by which it
// came. A value in many words runs on into the room of the rule.
func figureRow(f q.Figure, width float64, currency string) row {
	var r row
	name := width * nameShare
	r.height = r.wrapped(0, name-columnGap, f.Name, sheet.Regular, black())
	value := printed(f, currency)
	rule := f.Rule
	if c := f.Cite(); c != "" {
		if rule != "" {
			rule += " "
		}
		rule += c
	}
	room := width * valueShare
	if sheet.Room*sheet.Width(sheet.Printable(value), bodySize, sheet.Bold) > room-columnGap && f.Text != "" {
		if rule != "" {
			value += "  " + rule
		}
		r.height = max(r.height, r.wrapped(name, width-name, value, sheet.Regular, black()))
	} else {
		r.height = max(r.height, r.wrapped(name, room-columnGap, value, sheet.Bold, black()))
		r.height = max(r.height, r.wrapped(name+room, width-name-room, rule, sheet.Regular, grey()))
	}
	r.height += rowGap
	return r
}

// printed is a figure's value; an amount of money has its currency.
func printed(f q.Figure, currency string) string {
	if f.Text == "" && !f.IsBlank() && f.Unit == q.Money {
		return f.String() + " " + currency
	}
	return f.String()
}

func paragraphRow(s string, f sheet.Font, width float64) row {
	var r row
	r.height = r.wrapped(0, width, s, f, black()) + rowGap
	return r
}

// noteRow writes a note with a bar at its side.
func noteRow(n shop.Note, width float64) row {
	var r row
	f := sheet.Regular
	word := "Note: "
	if n.Severity > finding.Note {
		f, word = sheet.Bold, map[finding.Severity]string{finding.Warning: "WARNING: ", finding.Error: "ERROR: "}[n.Severity]
	}
	text := word + n.Text
	if n.Cite != "" {
		text += " " + n.Cite
	}
	h := r.wrapped(4, width-4, text, f, black())
	r.line(1, 0.4, 1, h-0.2, 0.8)
	r.height = h + rowGap + 0.6
	return r
}

// gridRows writes a grid: heads, rows, total.
func gridRows(g *shop.Grid, width float64, currency string) []row {
	sum := 0.0
	for _, w := range g.Widths {
		sum += w
	}
	cells := make([]string, len(g.Heads))
	line := func(texts []string, f sheet.Font) row {
		var r row
		x := 0.0
		for i, t := range texts {
			w := g.Widths[i] / sum * width
			lines := sheet.Wrap(sheet.Printable(t), bodySize, f, w-2)
			for k, s := range lines {
				y := float64(k+1)*bodyLine - 1.1
				if g.Right[i] {
					r.text(x+w-2, y, s, f, sheet.End, black())
				} else {
					r.text(x+1, y, s, f, sheet.Start, black())
				}
			}
			r.height = max(r.height, float64(len(lines))*bodyLine)
			x += w
		}
		r.height = max(r.height, bodyLine)
		return r
	}
	strings := func(fs []q.Figure) []string {
		for i, f := range fs {
			cells[i] = bare(f, currency)
		}
		return cells
	}
	head := line(g.Heads, sheet.Bold)
	head.line(0, head.height+0.3, width, head.height+0.3, thinLine)
	head.height += 0.9
	out := []row{head}
	for _, fs := range g.Rows {
		out = append(out, line(strings(fs), sheet.Regular))
	}
	if g.Total != nil {
		t := line(strings(g.Total), sheet.Bold)
		t.line(0, 0.1, width, 0.1, thinLine)
		out = append(out, t)
	}
	out[len(out)-1].height += rowGap
	return out
}

// bare is a figure in a grid: without the unit where the column's head says it.
func bare(f q.Figure, currency string) string {
	if f.Text != "" || f.IsBlank() {
		return f.Text
	}
	switch f.Unit {
	case q.Millimetre, q.Metre, q.Volt:
		return f.Value.Number(f.Unit, f.Decimals)
	}
	return printed(f, currency)
}

// blankRows write names with room beside them for what is written by hand.
func blankRows(names []string, width float64) []row {
	const tall = 8.2 // of a line to write on
	columns := 3
	for _, n := range names {
		if sheet.Room*sheet.Width(sheet.Printable(n), bodySize, sheet.Regular) > width/5 {
			columns = 2
		}
	}
	each := width / float64(columns)
	var out []row
	for i := 0; i < len(names); i += columns {
		r := row{height: tall}
		for k := i; k < min(i+columns, len(names)); k++ {
			x := float64(k-i) * each
			name := sheet.Printable(names[k])
			w := sheet.Room * sheet.Width(name, bodySize, sheet.Regular)
			r.text(x, 6.2, name, sheet.Regular, sheet.Start, black())
			if from := x + w + 1.5; from < x+each-6 {
				r.line(from, 6.6, x+each-3, 6.6, thinLine)
			}
		}
		out = append(out, r)
	}
	out[len(out)-1].height += rowGap
	return out
}

// stageRows write a figure a row with a box for the shop's own figure and one for
// initials, under heads.
func stageRows(s shop.Section, width float64) []row {
	const own, sign = 34.0, 14.0
	var head row
	head.text(0, 3.5, "Stage", sheet.Bold, sheet.Start, black())
	head.text(width-own-sign+1, 3.5, "Shop's own figure", sheet.Bold, sheet.Start, black())
	head.text(width-sign+1, 3.5, "Initials", sheet.Bold, sheet.Start, black())
	head.height = 5.2
	out := []row{head}
	for _, f := range s.Figures {
		r := figureRow(q.Figure{Name: f.Name, Text: f.Text, Source: f.Source, Grade: f.Grade}, width-own-sign-3, "")
		r.height = max(r.height, 7)
		box := geom.Rect{Min: geom.Point{X: width - own - sign, Y: -r.height + 0.4}, Max: geom.Point{X: width - sign, Y: 0.1}}
		initials := geom.Rect{Min: geom.Point{X: width - sign, Y: box.Min.Y}, Max: geom.Point{X: width, Y: box.Max.Y}}
		r.items = append(r.items, sheet.Shape{Pen: sheet.Pen{Width: thinLine, Colour: black()}, Paths: []geom.Path{sheet.Rectangle(box), sheet.Rectangle(initials)}})
		out = append(out, r)
	}
	return out
}

// cardRow lays a unit's card out as one row: figures at the left, room for
// handwriting at the right.
func cardRow(s shop.Section, width float64, currency string) row {
	const hand = 62.0
	var r row
	var left, right float64
	put := func(p row, x float64, y *float64) {
		for _, i := range p.items {
			r.items = append(r.items, sheet.Moved(i, geom.Vec{X: x, Y: -*y}))
		}
		*y += p.height
	}
	for _, f := range s.Figures {
		put(figureRow(f, width-hand-4, currency), 0, &left)
	}
	for _, name := range s.Blanks {
		b := row{height: 6.9}
		b.text(0, 4.9, name, sheet.Regular, sheet.Start, black())
		b.line(sheet.Room*sheet.Width(name, bodySize, sheet.Regular)+1.5, 5.4, hand, 5.4, thinLine)
		put(b, width-hand, &right)
	}
	r.height = max(left, right) + rowGap
	return r
}
