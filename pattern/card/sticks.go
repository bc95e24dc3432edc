package card

import (
	"fmt"
	"slices"
	"strconv"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/stick"
)

// Heights of the parts of a stick's drawing, mm, from the top.
const (
	numberHigh = 8.5  // numbers of heats in circles
	tubeHigh   = 5.0  // the stick
	leaderHigh = 5.0  // from its marks to their figures
	figureHigh = 16.0 // figures, turned
	figureGap  = 4.3  // least distance from figure to figure
)

// sticks draws every stick of the unit to one scale, with its marks.
func (w *writer) sticks() {
	longest := 0.0
	for _, p := range w.u.Plan.Pieces {
		longest = max(longest, p.Length)
	}
	if longest == 0 {
		return
	}
	scale := inner / longest
	high := 6 + numberHigh + tubeHigh + leaderHigh + figureHigh
	w.heading("Marks on the sticks, mm from the marked end (the end toward A)", high)
	for _, p := range w.u.Plan.Pieces {
		w.room(high)
		w.y -= 6
		w.add(line(margin, w.y, w.stickTitle(p), text, sheet.Bold, sheet.Start))
		w.y -= 1
		d := drawer{scale: scale, x: margin, top: w.y, high: tubeHigh, gap: figureGap, size: small, p: p}
		w.add(d.draw()...)
		w.y -= numberHigh + tubeHigh + leaderHigh + figureHigh
	}
}

func (w *writer) stickTitle(p stick.Piece) string {
	s := fmt.Sprintf("Stick %d: cut %s mm", p.Number, mm(p.Length, 0))
	switch {
	case p.Head > 0 && p.Tail > 0:
		s += fmt.Sprintf("; hold by the hatched ends, trim off %s and %s", mm(p.Head, 0), mm(p.Tail, 0))
	case p.Head+p.Tail > 0:
		s += fmt.Sprintf("; hold by the hatched end, trim off %s", mm(p.Head+p.Tail, 0))
	}
	return s
}

// drawer draws one stick, on the card or at true size.
type drawer struct {
	scale, x, top float64
	high          float64 // of the tube
	gap, size     float64 // of figures
	p             stick.Piece
}

func (d drawer) at(v float64) float64 { return d.x + d.scale*v }

func (d drawer) draw() []sheet.Item {
	y1 := d.top - numberHigh
	y0 := y1 - d.high
	box := func(a, b float64) geom.Rect {
		return geom.Rect{Min: geom.Point{X: d.at(a), Y: y0}, Max: geom.Point{X: d.at(b), Y: y1}}
	}
	var out []sheet.Item
	for _, tail := range [2][2]float64{{0, d.p.Head}, {d.p.Length - d.p.Tail, d.p.Length}} {
		if tail[1] > tail[0] {
			out = append(out, hatched(box(tail[0], tail[1]))...)
		}
	}
	out = append(out, d.zones(y0, y1)...)
	out = append(out, sheet.Shape{Paths: []geom.Path{sheet.Rectangle(box(0, d.p.Length))}, Pen: black(0.4)})
	// The marked end: a filled arrow head.
	out = append(out, sheet.Shape{Fill: sheet.Grey(0), Paths: []geom.Path{sheet.Polygon(
		geom.Point{X: d.at(0), Y: y1}, geom.Point{X: d.at(0) + 2.6, Y: y1 + 3.4}, geom.Point{X: d.at(0), Y: y1 + 3.4})}})
	return append(out, d.figures(y0)...)
}

// zones fills the heated zones and puts the numbers of their heats above.
func (d drawer) zones(y0, y1 float64) []sheet.Item {
	var out []sheet.Item
	var numbers []label
	open := map[int]float64{}
	fill := func(a, b float64) {
		out = append(out, sheet.Shape{Fill: sheet.Grey(200), Pen: black(0.4), Paths: []geom.Path{sheet.Rectangle(
			geom.Rect{Min: geom.Point{X: d.at(a), Y: y0}, Max: geom.Point{X: d.at(b), Y: y1}})}})
	}
	for _, m := range d.p.Marks {
		switch m.Kind {
		case stick.HeatsAt:
			open[m.Heat] = m.At
		case stick.HeatsTo:
			fill(open[m.Heat], m.At) // from the stick's own start where the weld lies in the zone
			numbers = append(numbers, label{(d.at(open[m.Heat]) + d.at(m.At)) / 2, strconv.Itoa(m.Heat)})
		}
	}
	const ring = 3.2
	for i, x := range spread(numbers, 2*ring+0.5) {
		y := y1 + ring + 1.6
		out = append(out, rule(numbers[i].x, y1, x, y1+1.6, thinLine),
			sheet.Shape{Paths: []geom.Path{sheet.Circle(geom.Point{X: x, Y: y}, ring)}, Pen: black(0.4), Fill: sheet.Grey(255)},
			line(x, y-sheet.CapHeight(text)/2, numbers[i].text, text, sheet.Bold, sheet.Middle))
	}
	return out
}

type label struct {
	x    float64
	text string
}

// figures writes the place of every mark below the stick, turned to be read from
// the right.
func (d drawer) figures(y0 float64) []sheet.Item {
	var out []sheet.Item
	var marks []label
	var kinds []string
	for _, m := range d.p.Marks {
		if m.Kind == stick.Middle {
			continue
		}
		marks = append(marks, label{d.at(m.At), mm(m.At, 0)})
		kinds = append(kinds, m.Kind)
	}
	for i, x := range spread(marks, d.gap) {
		pen, font := thinLine, sheet.Regular
		word := ""
		switch kinds[i] {
		case stick.Trim:
			pen, font, word = wideLine, sheet.Bold, " trim"
		case stick.Weld:
			pen, font, word = wideLine, sheet.Bold, " weld"
		case stick.End:
			font, word = sheet.Bold, " end"
		}
		out = append(out, rule(marks[i].x, y0+d.high, marks[i].x, y0, pen), rule(marks[i].x, y0, x, y0-leaderHigh, thinLine))
		t := line(x+sheet.CapHeight(d.size)/2, y0-leaderHigh-0.8, marks[i].text+word, d.size, font, sheet.End)
		t.Turn = 90 * geom.Degree
		out = append(out, t)
	}
	return out
}

// spread moves labels apart to at least gap, keeping their order and, where there
// is room, their place; groups that push each other are centred on their marks.
func spread(ls []label, gap float64) []float64 {
	type cluster struct {
		first, n int
		mid      float64
	}
	var cs []cluster
	for i, l := range ls {
		c := cluster{i, 1, l.x}
		for len(cs) > 0 {
			b := cs[len(cs)-1]
			if c.mid-gap*float64(c.n-1)/2-(b.mid+gap*float64(b.n-1)/2) >= gap {
				break
			}
			n := b.n + c.n
			mid := 0.0
			for k := b.first; k < b.first+n; k++ {
				mid += ls[k].x - gap*(float64(k-b.first)-float64(n-1)/2)
			}
			c = cluster{b.first, n, mid / float64(n)}
			cs = cs[:len(cs)-1]
		}
		cs = append(cs, c)
	}
	out := make([]float64, len(ls))
	for _, c := range cs {
		for k := range c.n {
			out[c.first+k] = c.mid + gap*(float64(k)-float64(c.n-1)/2)
		}
	}
	return out
}

// hatched fills a box with slanted lines.
func hatched(r geom.Rect) []sheet.Item {
	var paths []geom.Path
	const step = 1.6
	for x := r.Min.X - r.Height(); x < r.Max.X; x += step {
		a, b := geom.Point{X: x, Y: r.Min.Y}, geom.Point{X: x + r.Height(), Y: r.Max.Y}
		if a.X < r.Min.X {
			a = geom.Point{X: r.Min.X, Y: r.Min.Y + r.Min.X - x}
		}
		if b.X > r.Max.X {
			b = geom.Point{X: r.Max.X, Y: r.Min.Y + r.Max.X - x}
		}
		if a.X < b.X {
			paths = append(paths, sheet.Polyline(a, b))
		}
	}
	if len(paths) == 0 {
		return nil
	}
	return []sheet.Item{sheet.Shape{Paths: paths, Pen: black(thinLine)}}
}

// Strips returns each stick of every unit at true size, one sheet a stick: lay the
// stick along the drawing and carry the marks over.
func Strips(units []stick.Piece, diameter float64) []*sheet.Sheet {
	const side, top = 25.0, 22.0
	var out []*sheet.Sheet
	for _, p := range units {
		s := &sheet.Sheet{Width: p.Length + 2*side, Height: top + 6 + numberHigh + diameter + leaderHigh + figureHigh + 12, Frame: sheet.Bench,
			Title: fmt.Sprintf("Unit %s stick %d at true size", p.Unit, p.Number), Description: "Full size: lay the stick on it."}
		d := drawer{scale: 1, x: side, top: s.Height - top, high: diameter, gap: figureGap, size: text, p: p}
		items := []sheet.Item{line(side, s.Height-12, fmt.Sprintf("%s stick %d, true size: lay the stick on it. 100 mm:", p.Unit, p.Number), large, sheet.Bold, sheet.Start)}
		x := side + sheet.Width(items[0].(sheet.Text).Text, large, sheet.Bold) + 4
		items = append(items, rule(x, s.Height-12, x+100, s.Height-12, wideLine), rule(x, s.Height-14, x, s.Height-10, wideLine), rule(x+100, s.Height-14, x+100, s.Height-10, wideLine))
		s.Width = max(s.Width, x+100+side)
		id := fmt.Sprintf("strip-%s-%d", p.Unit, p.Number)
		s.Layers = []sheet.Layer{{ID: id, Name: "Stick", Groups: []sheet.Group{{ID: id + "-all", Title: "Stick", Items: slices.Concat(items, d.draw())}}}}
		out = append(out, s)
	}
	return out
}
