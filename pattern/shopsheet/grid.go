package shopsheet

import (
	"strings"

	"tubewright/pattern/sheet"
	"tubewright/pattern/shop"
	q "tubewright/pattern/shop/quantity"
)

// gridRows writes a grid: heads, rows, total.
func gridRows(g *shop.Grid, width float64) []row {
	head := gridLine(g, g.Heads, sheet.Bold, width)
	head.line(0, head.height+0.2, width, head.height+0.2, thinLine)
	head.height += 0.7
	out := []row{head}
	cells := func(fs []q.Figure) []string {
		var texts []string
		for _, f := range fs {
			texts = append(texts, bare(f))
		}
		return texts
	}
	for _, fs := range g.Rows {
		out = append(out, gridLine(g, cells(fs), sheet.Regular, width))
	}
	if g.Total != nil {
		t := row{height: 0.5}
		t.line(0, 0.3, width, 0.3, thinLine)
		sums := gridLine(g, cells(g.Total), sheet.Bold, width)
		t.put(sums, 0, t.height)
		t.height += sums.height
		out = append(out, t)
	}
	out[len(out)-1].height += rowGap
	return out
}

// columnRules says how the columns of a grid are reckoned: "lit, hidden: of the pattern
// [D]. Time: count × each [invented]."
func columnRules(g *shop.Grid) string {
	var out []string
	for i := 0; i < len(g.By); i++ {
		if g.By[i] == (shop.Rule{}) {
			continue
		}
		heads := []string{plainHead(g.Heads[i])}
		for i+1 < len(g.By) && g.By[i+1] == g.By[i] {
			i++
			heads = append(heads, plainHead(g.Heads[i]))
		}
		r := g.By[i]
		out = append(out, strings.Join(heads, ", ")+": "+cited(q.Figure{Rule: r.Rule, Source: r.Source, Grade: r.Grade})+".")
	}
	return strings.Join(out, " ")
}

// plainHead is a column's head without its unit.
func plainHead(head string) string {
	name, _, _ := strings.Cut(head, ",")
	return name
}

// after is the room between a column set to the right and one set to the left, mm.
const after = 2.0

// gridLine writes one line of cells, each wrapped in its column.
func gridLine(g *shop.Grid, texts []string, f sheet.Font, width float64) row {
	sum := 0.0
	for _, w := range g.Widths {
		sum += w
	}
	r := row{height: bodyLine}
	x := 0.0
	for i, t := range texts {
		w := g.Widths[i] / sum * width
		var cell row
		h := cell.flow(column(0, w-1), span{t, f, black()})
		for _, item := range cell.items {
			s := item.(sheet.Text)
			s.At.X += x
			if i > 0 && g.Right[i-1] {
				s.At.X += after
			}
			if g.Right[i] {
				s.At.X, s.Anchor = x+w, sheet.End
			}
			r.items = append(r.items, s)
		}
		r.height = max(r.height, h)
		x += w
	}
	return r
}

// bare is a figure in a grid: without the unit where the column's head says it.
func bare(f q.Figure) string {
	if f.Text != "" || f.IsBlank() {
		return f.Text
	}
	switch f.Unit {
	case q.Millimetre, q.Metre, q.Volt, q.MinutePerPiece:
		return f.Value.Number(f.Unit, f.Decimals)
	}
	return f.String()
}
