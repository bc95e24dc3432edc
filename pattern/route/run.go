package route

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// run is one stretch of lit glass with a turn behind the face at both ends,
// from side 0 to side 1.
type run struct {
	end   [2]end
	lane  int
	place [2]geom.Point // where the straight glass behind each end stands
	top   [2]float64    // how far behind the face it begins
	segs  []geom.Segment3
	dark  [2]bool // the quarter turn at the end lies behind the face and is hidden
	len   float64
	box   geom.Rect // of its plan
	shade bool      // the bottoms of its dips are painted out
	bends int       // bends out of the face, and changes of hand
	along []float64 // where on the lane each segment begins, and the last one ends
}

// runs builds the lit glass of every span.
func (p *planner) runs() []run {
	var out []run
	for i, l := range p.lanes {
		for k, sp := range l.spans {
			r := run{lane: i, end: [2]end{{i, k, 0}, {i, k, 1}}}
			from, to := sp.level()
			first, last := p.turn(r.end[0]), p.turn(r.end[1])
			for n := len(first) - 1; n >= 0; n-- {
				r.segs = append(r.segs, first[n].Reversed())
			}
			if to-from > 1e-6 {
				r.segs = append(r.segs, tube.Lift(l.Path.Cut(from, to), l.dipsWithin(from, to))...)
			}
			r.segs = append(r.segs, last...)
			for side, turn := range [2][]geom.Segment3{first, last} {
				tip := turn[len(turn)-1].End()
				r.place[side], r.top[side] = tip.Plan(), -tip.Z
				r.dark[side] = sp.sunk[side] > 0
			}
			r.box = geom.EmptyRect().Including(r.place[0]).Including(r.place[1])
			if to-from > 1e-6 {
				r.box = r.box.Union(l.Path.Cut(from, to).Bounds())
			}
			for _, s := range r.segs {
				r.len += s.Length()
			}
			r.bends = countBends(r.segs)
			r.along = p.alongLane(r.segs, sp)
			out = append(out, r)
		}
	}
	p.shadeDips(out)
	return out
}

// countBends counts the bends out of the face, and those in it that turn the
// other way than the one before.
func countBends(segs []geom.Segment3) int {
	n, hand := 0, 0.0
	for _, s := range segs {
		a, ok := s.(geom.Arc3)
		if !ok {
			continue
		}
		if a.Axis.Z*a.Axis.Z < 0.99 || a.Axis.Z*hand < 0 {
			n++
		}
		hand = a.Axis.Z
	}
	return n
}

// shadeDips paints out the bottoms of dips, which lie right behind the strand
// they cross, on strokes so short that their ramps and turns make them much
// brighter than others: over 5 % and 2 D more lit glass than stroke.
func (p *planner) shadeDips(runs []run) {
	lit := map[int]float64{}
	for _, r := range runs {
		lit[r.lane] += r.len
	}
	for i, r := range runs {
		n := p.lanes[r.lane].length
		runs[i].shade = lit[r.lane] > 1.04*n+1.9*p.rules.Diameter
	}
}

// behindStrand reports whether a piece is the level bottom of a dip.
func (p *planner) behindStrand(s geom.Segment3) bool {
	a, b := s.Start().Z, s.End().Z
	return math.Abs(a-b) < 1e-6 && a <= -p.rules.DipDepth+1e-6 && s.Length() <= p.rules.Diameter
}

// dipsWithin returns the dips between two places, counted from the first.
func (l *lane) dipsWithin(from, to float64) []tube.Dip {
	var out []tube.Dip
	for _, d := range l.dips {
		if d.At > from && d.At < to {
			d.At -= from
			out = append(out, d)
		}
	}
	return out
}

// alongLane returns where on the lane each segment of a run begins, and the
// last one ends: as far as its plan has come.
func (p *planner) alongLane(segs []geom.Segment3, sp span) []float64 {
	at := sp.lo
	out := []float64{at}
	for _, s := range segs {
		n := max(1, int(s.Length()))
		from := s.Start().Plan()
		for k := 1; k <= n; k++ {
			to := s.PointAt(s.Length() * float64(k) / float64(n)).Plan()
			at += from.Dist(to)
			from = to
		}
		out = append(out, at)
	}
	return out
}
