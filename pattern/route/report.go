package route

import (
	"tubewright/geom"
	"tubewright/pattern/tube"
)

// Term is one part of what a unit costs: an amount (mm of glass or a count)
// times its weight, for one letter.
type Term struct {
	Name   string // "hidden", "paint", "double-back", "bend", "electrodes"
	Letter int    // index of the letter the glass leads to
	Amount float64
	Weight float64
}

// Cost is the term's part of the whole, in mm-equivalents.
func (t Term) Cost() float64 { return t.Amount * t.Weight }

// termNames in the order they are printed.
var termNames = [...]string{"hidden", "paint", "double-back", "bend", "electrodes"}

// report breaks the cost of one finished unit down by term and letter. What
// is counted is the glass as it lies, not what the search expected.
func (p *planner) report(t tube.Tube, lit *plan) []Term {
	weights := [...]float64{p.costs.Hidden, p.costs.Paint, p.costs.DoubleBack, p.costs.Bend, p.costs.Electrodes}
	letterOf := map[string]int{}
	for _, l := range p.lanes {
		letterOf[l.ID] = l.Letter
	}
	amounts := map[int]*[len(termNames)]float64{}
	var letters []int
	at := func(letter int) *[len(termNames)]float64 {
		if amounts[letter] == nil {
			amounts[letter] = &[len(termNames)]float64{}
			letters = append(letters, letter)
		}
		return amounts[letter]
	}
	for i, piece := range t {
		if piece.Role == tube.Leg {
			continue
		}
		a := at(letterOf[nextStroke(t, i)])
		if piece.Role == tube.Lit {
			continue
		}
		a[0] += piece.Seg.Length()
		a[1] += p.painted(piece.Seg, lit)
		if arc, ok := piece.Seg.(geom.Arc3); ok {
			if arc.DirAt(0).Z*arc.DirAt(0).Z > 0.8 || arc.DirAt(arc.Length()).Z*arc.DirAt(arc.Length()).Z > 0.8 {
				a[2]++
			} else {
				a[3]++
			}
		}
	}
	at(letterOf[nextStroke(t, 0)])[4]++
	var out []Term
	for _, letter := range letters {
		for k, name := range termNames {
			if v := amounts[letter][k]; v > 0 {
				out = append(out, Term{name, letter, v, weights[k]})
			}
		}
	}
	return out
}

// nextStroke names the stroke that the glass from piece i on leads to, or the
// last one before it.
func nextStroke(t tube.Tube, i int) string {
	for k := i; k < len(t); k++ {
		if t[k].Stroke != "" {
			return t[k].Stroke
		}
	}
	for k := i; k >= 0; k-- {
		if t[k].Stroke != "" {
			return t[k].Stroke
		}
	}
	return ""
}

// painted returns how much of a hidden piece is not behind lit glass.
func (p *planner) painted(s geom.Segment3, lit *plan) float64 {
	n := max(1, int(s.Length()/2))
	seen := 0
	for k := range n {
		if !lit.near(s.PointAt(s.Length()*(float64(k)+0.5)/float64(n)).Plan(), 0.5*p.rules.Diameter) {
			seen++
		}
	}
	return s.Length() * float64(seen) / float64(n)
}
