package shop

import (
	q "tubewright/pattern/shop/quantity"
)

// Sums are the totals that stand on the sheets, for result.json: lengths in mm to
// a tenth, as they are printed.
type Sums struct {
	Lit, Hidden, Legs, Glass, Electrical, Cable, Paint float64
	Bends, Sticks, Welds, Supports, Electrodes         int
	Mercury                                            float64 // mg at most, one set; 0 without mercury
	Circuits                                           []CircuitSum
}

// CircuitSum is one circuit of the sums. KV is 0 where the chart gives no rating.
type CircuitSum struct {
	ID, Chart         string
	Units             []string
	Glass, Electrical float64 // mm
	KV, VoltAmperes   float64
	Share             float64 // of the rating, 0 to 1
}

// Sums adds up what the sheets show.
func (p Plan) Sums() Sums {
	var s Sums
	mm := func(l q.Quantity) float64 { return l.Float(q.Millimetre) }
	lit, hidden, legs, glass := q.Int(0, q.Millimetre), q.Int(0, q.Millimetre), q.Int(0, q.Millimetre), q.Int(0, q.Millimetre)
	for _, u := range p.Units {
		lit, hidden, legs, glass = lit.Add(u.Lit), hidden.Add(u.Hidden), legs.Add(u.Leg), glass.Add(u.Glass)
		s.Bends, s.Welds, s.Supports, s.Electrodes = s.Bends+u.bends(), s.Welds+u.Welds, s.Supports+u.Support, s.Electrodes+2
	}
	s.Lit, s.Hidden, s.Legs, s.Glass = mm(lit), mm(hidden), mm(legs), mm(glass)
	var before Cut
	for _, c := range p.Cuts {
		if c.Stick > 0 && (c.Stick != before.Stick || c.Colour != before.Colour || c.Glass != before.Glass) {
			s.Sticks++
		}
		before = c
	}
	wire, electrical := q.Int(0, q.Millimetre), q.Int(0, q.Millimetre)
	for i, c := range p.Circuits {
		wire, electrical = wire.Add(c.Wire), electrical.Add(c.Answer.Electrical)
		s.Circuits = append(s.Circuits, p.circuitSum(i))
	}
	s.Cable, s.Electrical, s.Paint = mm(wire), mm(electrical), mm(p.Paint)
	s.Mercury = p.Mercury.Float(q.Milligram)
	return s
}

func (p Plan) circuitSum(i int) CircuitSum {
	c := p.Circuits[i]
	out := CircuitSum{ID: circuitName(i), Chart: c.Answer.Chart, Glass: c.Glass.Float(q.Millimetre), Electrical: c.Answer.Electrical.Float(q.Millimetre)}
	for _, u := range c.Units {
		out.Units = append(out.Units, p.Units[u].ID)
	}
	if c.HasRating() {
		out.KV = c.Answer.Rating.Float(q.Kilovolt)
		out.VoltAmperes = c.Answer.Rating.Mul(q.Int(p.Spec.Current, q.Milliampere)).Float(q.VoltAmpere)
		out.Share = c.Answer.Share.Float(q.One)
	}
	return out
}
