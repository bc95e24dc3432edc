package route

import (
	"math"

	"tubewright/pattern/tube"
)

// kissDistance, in D, is how near two strokes must come, without crossing and
// without an end there, to count as drawn touching: then one of them is
// ended on both sides of the touch. Strokes farther apart than this, yet
// nearer than the clearance, are too close by design and left for the audit.
const kissDistance = 0.5

// kiss is a stretch in which lane i runs along or touches lane j.
type kiss struct {
	i, j           int
	lo, hi         float64 // where on i
	from, to       float64 // where on j
	s, t, distance float64 // the nearest place
}

// partKisses ends one strand where two touch by design (the waist of a B, the
// arms of a K on its stem, a script stroke run over twice).
func (p *planner) partKisses() {
	for range 4 {
		k, ok := p.findKiss()
		if !ok {
			return
		}
		for ok {
			p.partAt(k)
			k, ok = p.findKiss()
		}
		p.trimEnds()
	}
}

func (p *planner) findKiss() (kiss, bool) {
	limit := kissDistance * p.rules.Diameter
	for i, l := range p.lanes {
		var k kiss
		open := false
		for _, s := range l.samples(i) {
			if !l.isGlass(s.Pos) {
				if open {
					break
				}
				continue
			}
			d, o := p.nearestGlass(i, s)
			if d > limit {
				if open {
					break
				}
				continue
			}
			if !open {
				open, k = true, kiss{i: i, j: o.Body, lo: s.Pos, from: o.Pos, to: o.Pos, distance: math.Inf(1)}
			}
			if o.Body != k.j {
				break // another strand comes up: a touch of its own
			}
			k.hi = s.Pos
			k.from, k.to = min(k.from, o.Pos), max(k.to, o.Pos)
			if d < k.distance {
				k.s, k.t, k.distance = s.Pos, o.Pos, d
			}
		}
		if open {
			return k, true
		}
	}
	return kiss{}, false
}

// nearestGlass returns the nearest sample of level glass that is not the same
// stretch of the same lane.
func (p *planner) nearestGlass(i int, s tube.Sample) (float64, tube.Sample) {
	best, at := math.Inf(1), tube.Sample{}
	p.world.Visit(s.P, func(o tube.Sample, d float64) {
		if d >= best || !p.lanes[o.Body].isGlass(o.Pos) || o.Body == i && math.Abs(o.Pos-s.Pos) < p.window() {
			return
		}
		best, at = d, o
	})
	return best, at
}

// partAt ends the strand that turns more where the two touch; if both run
// straight, the shorter one. A stretch run over twice is left out once.
func (p *planner) partAt(k kiss) {
	a, b := p.lanes[k.i], p.lanes[k.j]
	turnA, turnB := p.turning(a, k.s), p.turning(b, k.t)
	if k.i != k.j && (turnB > turnA+0.1 || turnB > turnA-0.1 && b.length < a.length) {
		p.leaveOut(k.j, k.from, k.to)
		return
	}
	p.leaveOut(k.i, k.lo, k.hi)
}

// turning returns how much the lane turns within 1.5 D of s, in radians.
func (p *planner) turning(l *lane, s float64) float64 {
	d := 1.5 * p.rules.Diameter
	from, to := l.Path.DirAt(max(0, s-d)), l.Path.DirAt(min(l.length, s+d))
	return math.Abs(float64(from.TurnTo(to)))
}

// leaveOut ends the glass of a lane before lo and lets it start again after
// hi. What would be too short to be bent is left out whole.
func (p *planner) leaveOut(i int, lo, hi float64) {
	l := p.lanes[i]
	r := p.rules.DoubleBackRadius
	var out []span
	for _, sp := range l.spans {
		if hi <= sp.lo || lo >= sp.hi {
			out = append(out, sp)
			continue
		}
		least := 2 * p.rules.MinRadius
		left, right := sp, sp
		left.hi, left.trimmed[1], left.stuck[1] = min(lo, sp.hi), 0, false
		right.lo, right.trimmed[0], right.stuck[0] = max(hi, sp.lo), 0, false
		for _, part := range []span{left, right} {
			if n := part.hi - part.lo; n >= least {
				part.radius = [2]float64{min(r, n/2), min(r, n/2)}
				part.sunk = [2]float64{}
				out = append(out, part)
			}
		}
	}
	l.spans = out
}

// splitLong ends lanes so long that one run of them would be longer than a
// unit may be, in equal parts.
func (p *planner) splitLong() {
	for i, l := range p.lanes {
		room := p.rules.MaxUnit - 2*(p.rules.Leg+2*p.rules.DoubleBackRadius)
		n := int(math.Ceil(l.length / room))
		for k := 1; k < n; k++ {
			p.splitSpan(i, p.clearOfDips(l, l.length*float64(k)/float64(n)))
		}
	}
}

// clearOfDips moves a place on a lane off the dips.
func (p *planner) clearOfDips(l *lane, s float64) float64 {
	for _, d := range l.dips {
		if room := d.Half() + p.rules.Need() + p.rules.DoubleBackRadius; math.Abs(s-d.At) < room {
			s = d.At - room
		}
	}
	return s
}
