package card

import (
	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/paper"
	"tubewright/pattern/stick"
	"tubewright/pattern/words"
)

// StripHigh is how high a strip is for a tube, mm.
func StripHigh(diameter float64) float64 { return numberHigh + diameter + leaderHigh + figureHigh }

// Strip draws a stick at true size, to lay the glass on and carry its marks over.
// Where it is longer than the width, it is drawn in stretches one below the other,
// which share a line at both sides of each cut, with its place on the stick.
func Strip(p stick.Piece, diameter float64, w words.Words, width float64) []paper.Row {
	const edge = 6.0 // beyond the cuts, for the figures beside them
	each := p.Length
	if p.Length > width {
		each = width - 2*edge
	}
	var out []paper.Row
	for from := 0.0; from < p.Length-1e-6; from += each {
		d := drawer{scale: 1, from: from, to: min(p.Length, from+each), width: min(width, each), high: diameter, p: p, w: w}
		r := d.row()
		if each < p.Length {
			for i := range r.Items {
				r.Items[i] = sheet.Moved(r.Items[i], geom.Vec{X: edge})
			}
			r.Items = append(r.Items, d.cuts(edge)...)
			r.Height += 3
		}
		out = append(out, r)
	}
	return out
}

// cuts marks where a stretch meets the ones before and after it.
func (d drawer) cuts(edge float64) []sheet.Item {
	var out []sheet.Item
	y := -numberHigh - d.high/2
	cut := func(x, at, beside float64) {
		out = append(out, rule(x, y-d.high/2-4, x, y+d.high/2+4, thinLine))
		t := line(beside, y, whole(at), small, sheet.Regular, sheet.Middle)
		t.Turn = 90 * geom.Degree
		out = append(out, t)
	}
	if d.from > 0 {
		cut(edge, d.from, edge-1.5)
	}
	if d.to < d.p.Length-1e-9 {
		cut(edge+d.to-d.from, d.to, edge+d.to-d.from+4)
	}
	return out
}
