package card

import (
	"math"
	"strconv"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/stick"
	"tubewright/pattern/words"
)

// Heights of the parts of a stick's drawing, mm, from the top, and the least
// distances of numbers and figures.
const (
	numberHigh = 8.5  // numbers of heats in circles
	tubeHigh   = 5.0  // the stick, where it is not at true size
	leaderHigh = 5.0  // from its marks to their figures
	figureHigh = 21.0 // figures, turned
	figureGap  = 4.3
	numberRing = 3.2
	numberGap  = 2*numberRing + 0.5
)

// Sticks draws every stick of a unit with its marks, all to one scale; a stick with
// many marks is drawn in several pieces, one below the other.
func Sticks(u pattern.Unit, w words.Words, width float64) []paper.Row {
	out := []paper.Row{paper.Heading(w.Say("sticks"), width)}
	out = append(out, paper.Paragraph(w.Say("sticks.words"), 0, width, sheet.Regular)...)
	longest, lines := 0.0, 1
	for _, p := range u.Plan.Pieces {
		longest = max(longest, p.Length)
	}
	for !fit(u.Plan.Pieces, longest/float64(lines), width) {
		lines++
	}
	each := longest / float64(lines)
	for _, p := range u.Plan.Pieces {
		title := paper.Paragraph(stickTitle(p, w), 0, width, sheet.Bold)
		for i := range title {
			title[i].Keep = true
		}
		out = append(out, title...)
		for from := 0.0; from < p.Length-1e-6; from += each {
			d := drawer{scale: width / each, from: from, to: min(p.Length, from+each), width: width, high: tubeHigh, p: p, w: w}
			out = append(out, d.row())
		}
	}
	return out
}

// fit reports whether the marks of sticks drawn in pieces so long have room for
// their figures and numbers side by side.
func fit(pieces []stick.Piece, each, width float64) bool {
	for _, p := range pieces {
		figures, numbers := map[int]int{}, map[int]int{}
		for _, m := range p.Marks {
			k := int(m.At / each)
			if m.Kind == stick.Middle {
				numbers[k]++
			} else {
				figures[k]++
			}
		}
		for k := range int(math.Ceil(p.Length/each)) + 1 {
			if float64(figures[k])*figureGap > width || float64(numbers[k])*numberGap > width {
				return false
			}
		}
	}
	return true
}

func stickTitle(p stick.Piece, w words.Words) string {
	s := w.Say("stick", p.Number, w.Number(p.Length, 1))
	switch {
	case p.Head > 0 && p.Tail > 0:
		s += "; " + w.Say("stick.hold2", whole(p.Head), whole(p.Tail))
	case p.Head+p.Tail > 0:
		s += "; " + w.Say("stick.hold1", whole(p.Head+p.Tail))
	}
	return s
}

// drawer draws a stretch of one stick, on the card or at true size. The drawing
// hangs down from y = 0, the stretch from x = 0 on.
type drawer struct {
	scale, from, to float64
	width           float64 // within which labels stand
	high            float64 // of the tube
	p               stick.Piece
	w               words.Words
}

func (d drawer) at(v float64) float64 { return d.scale * (max(d.from, min(d.to, v)) - d.from) }

// holds reports whether a mark is drawn in this stretch.
func (d drawer) holds(v float64) bool {
	return v >= d.from-1e-9 && (v < d.to-1e-9 || d.to >= d.p.Length-1e-9)
}

func (d drawer) row() paper.Row {
	return paper.Row{Items: d.draw(), Height: numberHigh + d.high + leaderHigh + figureHigh}
}

func (d drawer) draw() []sheet.Item {
	y1 := -numberHigh
	y0 := y1 - d.high
	box := func(a, b float64) geom.Rect {
		return geom.Rect{Min: geom.Point{X: d.at(a), Y: y0}, Max: geom.Point{X: d.at(b), Y: y1}}
	}
	var out []sheet.Item
	for _, tail := range [2][2]float64{{0, d.p.Head}, {d.p.Length - d.p.Tail, d.p.Length}} {
		if d.at(tail[1]) > d.at(tail[0]) {
			out = append(out, hatched(box(tail[0], tail[1]))...)
		}
	}
	out = append(out, d.zones(y0, y1)...)
	long := d.at(d.to)
	out = append(out, rule(0, y0, long, y0, 0.4), rule(0, y1, long, y1, 0.4))
	if d.from == 0 { // the marked end: a filled arrow head
		out = append(out, rule(0, y0, 0, y1, 0.4), sheet.Shape{Fill: sheet.Grey(0), Paths: []geom.Path{sheet.Polygon(
			geom.Point{Y: y1}, geom.Point{X: 2.6, Y: y1 + 3.4}, geom.Point{Y: y1 + 3.4})}})
	}
	if d.to >= d.p.Length-1e-9 {
		out = append(out, rule(long, y0, long, y1, 0.4))
	}
	return append(out, d.figures(y0)...)
}

// zones fills the heated zones and puts the numbers of their heats above.
func (d drawer) zones(y0, y1 float64) []sheet.Item {
	var out []sheet.Item
	var numbers []label
	for _, m := range d.p.Marks {
		if m.Kind != stick.Middle {
			continue
		}
		_, from, to := stick.Zone([]stick.Piece{d.p}, m.Heat)
		if d.at(to) > d.at(from) {
			out = append(out, sheet.Shape{Fill: sheet.Grey(140), Pen: black(thinLine), Paths: []geom.Path{sheet.Rectangle(
				geom.Rect{Min: geom.Point{X: d.at(from), Y: y0}, Max: geom.Point{X: d.at(to), Y: y1}})}})
		}
		if d.holds(m.At) {
			numbers = append(numbers, label{d.at(m.At), strconv.Itoa(m.Heat)})
		}
	}
	for i, x := range spread(numbers, numberGap, numberRing, d.width-numberRing) {
		y := y1 + numberRing + 1.6
		out = append(out, rule(numbers[i].x, y1, x, y1+1.6, thinLine),
			sheet.Shape{Paths: []geom.Path{sheet.Circle(geom.Point{X: x, Y: y}, numberRing)}, Pen: black(0.4), Fill: sheet.Grey(255)},
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
		if m.Kind != stick.Middle && d.holds(m.At) {
			marks = append(marks, label{d.at(m.At), whole(m.At)})
			kinds = append(kinds, m.Kind)
		}
	}
	for i, x := range spread(marks, figureGap, figureGap/2, d.width-figureGap/2) {
		pen, font, word := thinLine, sheet.Regular, ""
		if k := kinds[i]; k == stick.Trim || k == stick.Weld || k == stick.End {
			font, word = sheet.Bold, " "+d.w.Say("tag."+k)
			if k != stick.End {
				pen = wideLine
			}
		}
		out = append(out, rule(marks[i].x, y0+d.high, marks[i].x, y0, pen), rule(marks[i].x, y0, x, y0-leaderHigh, thinLine))
		t := line(x+sheet.CapHeight(small)/2, y0-leaderHigh-0.8, marks[i].text+word, small, font, sheet.End)
		t.Turn = 90 * geom.Degree
		out = append(out, t)
	}
	return out
}
