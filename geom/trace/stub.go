package trace

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/medial"
)

const (
	capTurn = 120 * math.Pi / 180 // turn of wall that makes the end of a stroke
	capFull = 170 * math.Pi / 180
	twoEnds = 240 * math.Pi / 180 // turn of wall that is more than one end
	// A bump's centres lie within bumpNear half-widths of each other while its
	// wall turns by bumpTurn or more.
	bumpTurn = 35 * math.Pi / 180
	bumpNear = 0.06
	// An end more than evenEnd as wide as its stroke is none, of an even pen.
	evenEnd = 1.25
	// squareTurn is the least turn at the corner of a cut-off end.
	squareTurn = 55 * math.Pi / 180
)

// findStubs looks in the walls between the arms of a zone for the ends of
// strokes too short to have a link of their own, and adds an arm for each. It
// reports whether it found any.
//
// A stub shows as wall that turns away from the ink by a half turn or so and
// is parted from one neighbour at least by a dent. (The outside of a corner
// turns as much, but has no dent beside it.)
func (t *tracer) findStubs(z *zone, zi int, runs []boundary) bool {
	found := false
	for i := range runs {
		r := &runs[i]
		if r.dents == 0 || z.stubbed {
			continue
		}
		loop := z.arms[r.from].right.Loop
		parts := undented(r.pts)
		for k, p := range parts {
			turn := 0.0
			for _, w := range p {
				turn += w.turn
			}
			near := &z.arms[r.from]
			if p[len(p)-1].along == r.pts[len(r.pts)-1].along {
				near = &z.arms[r.to]
			}
			var l stub
			var ok bool
			switch {
			case len(z.arms) > 1 && turn >= capTurn && (turn < twoEnds || t.hasRoundCap(p, near.r)):
				l, ok = t.stubLink(near, loop, p)
			case len(z.arms) > 1 && turn < capTurn:
				if l, ok = t.halfStub(near, loop, p, r); ok && t.isNotch(near, loop, parts, k, r) {
					ok = false
				}
			}
			if !ok && (turn < capTurn || turn >= twoEnds) {
				l, ok = t.bump(near, loop, p, r)
			}
			if ok {
				l.zone = [2]int{-2, zi}
				l.join[0] = l.start
				t.links = append(t.links, l.link)
				z.arms = append(z.arms, arm{link: len(t.links) - 1, end: 1, stub: true})
				found = true
			}
		}
	}
	z.stubbed = true
	return found
}

// isNotch reports whether another part of the wall looks like a half stub too:
// a notch where two square ends share a corner does.
func (t *tracer) isNotch(near *arm, loop int, parts [][]wallPoint, k int, r *boundary) bool {
	for m, q := range parts {
		if m != k {
			if _, twin := t.halfStub(near, loop, q, r); twin {
				return true
			}
		}
	}
	return false
}

// bump recognises a round end of which only a side shows, next to a dent: the
// wall there is an arc about one place, half a width inside, before it leads
// on along its stroke. Only a face drawn with one even pen shows this safely.
func (t *tracer) bump(near *arm, loop int, p []wallPoint, r *boundary) (stub, bool) {
	if math.IsInf(t.widest, 1) {
		return stub{}, false
	}
	if fromDent := p[0].along != r.pts[0].along; fromDent {
		if s, ok := t.bumpAt(near, loop, p, false); ok {
			return s, true
		}
	}
	if toDent := p[len(p)-1].along != r.pts[len(r.pts)-1].along; toDent {
		return t.bumpAt(near, loop, reversedWalls(p), true)
	}
	return stub{}, false
}

// bumpAt looks for a bump at the front of p, which is the wall from the dent
// on; backward says that it was turned round.
func (t *tracer) bumpAt(near *arm, loop int, p []wallPoint, backward bool) (stub, bool) {
	first := p[0].at.Add(p[0].n.Mul(near.r))
	turn, to := 0.0, 0
	for i, w := range p {
		if w.at.Add(w.n.Mul(near.r)).Dist(first) > bumpNear*near.r || w.turn > roundStep {
			break
		}
		if i > 0 {
			turn += w.turn
		}
		to = i
	}
	if turn < bumpTurn || to < 2 || to == len(p)-1 {
		return stub{}, false
	}
	c := middle(p[:to+1], near.r)
	line := offsets(p[to+1:], func(float64) float64 { return near.r })
	slices.Reverse(line)
	for len(line) > 0 && line[len(line)-1].Dist(c) < 0.05*near.r {
		line = line[:len(line)-1]
	}
	for len(line) > 1 && line[0].Dist(c) > 0.5*near.r {
		line = line[1:]
	}
	if len(line) == 0 {
		return stub{}, false
	}
	// As seen into the zone the wall that goes on is on the right when the
	// outline is walked forward, and the dent is on the left.
	left, right := t.contactAt(loop, p[0]), t.contactAt(loop, p[to+1])
	if backward {
		left, right = right, left
	}
	return newStub(c, near.r, EndRound, line, left, right), true
}

// undented returns the stretches of wall next to dents, without the dents.
func undented(pts []wallPoint) [][]wallPoint {
	var out [][]wallPoint
	from := 0
	for i := 0; i <= len(pts); i++ {
		if i < len(pts) && !pts[i].dent {
			continue
		}
		if i-from >= 2 {
			out = append(out, pts[from:i])
		}
		from = i + 1
	}
	return out
}

type stub struct {
	link
	start *join
}

// stubLink makes a link of the wall p about the end of a short stroke, seen
// with the ink on the left.
func (t *tracer) stubLink(near *arm, loop int, p []wallPoint) (stub, bool) {
	from, to := t.roundCap(p, near.r)
	if from < 0 {
		return stub{}, false
	}
	sharp := p[from].turn > sharpTurn && p[to].turn > sharpTurn && to > from
	var c geom.Point
	r := near.r
	end := EndRound
	if sharp {
		r = p[from].at.Dist(p[to].at) / 2
		c = p[from].at.Lerp(p[to].at, 0.5)
		end = EndFlat
	} else {
		_, fitted, ok := circleThrough(p[from : to+1])
		if !ok {
			return stub{}, false
		}
		if math.Abs(fitted-r) > 0.2*r {
			r = fitted
		}
		c = middle(p[from:to+1], r)
	}
	if !(r > 0.3*near.r && r < 2*near.r) || t.evenPen() && r > evenEnd*near.r {
		return stub{}, false
	}
	constant := func(float64) float64 { return r }
	before, after := p[:from], reversedWalls(p)[:len(p)-1-to]
	line := offsets(before, constant)
	if other := offsets(after, constant); span(other, c) > span(line, c) {
		line = other
	}
	for len(line) > 0 && line[len(line)-1].Dist(c) < 0.02*r {
		line = line[:len(line)-1]
	}
	for len(line) > 1 && line[0].Dist(c) > 0.5*r { // enough to give its direction
		line = line[1:]
	}
	if len(line) == 0 || line[0].Dist(c) < 0.05*r { // nothing but the end itself is seen: point it to the middle of the zone
		m := p[(from+to)/2]
		line = []geom.Point{c.Add(m.n.Mul(0.05 * r))}
	}
	left, right := t.contactAt(loop, p[max(from-1, 0)]), t.contactAt(loop, p[min(to+1, len(p)-1)])
	return newStub(c, r, end, line, left, right), true
}

// newStub makes a link from its end at c along line, whose last point is
// nearest to c.
func newStub(c geom.Point, r float64, end EndKind, line []geom.Point, left, right medial.Contact) stub {
	s := stub{start: &join{end: end, corner: -1}}
	s.s = append(s.s, medial.Sample{At: c, Radius: r, Left: left, Right: right})
	for i := len(line) - 1; i >= 0; i-- {
		s.s = append(s.s, medial.Sample{At: line[i], Radius: r, Left: left, Right: right})
	}
	return s
}

// middle returns the mean of the points r inside the wall.
func middle(p []wallPoint, r float64) geom.Point {
	var x, y float64
	for _, w := range p {
		q := w.at.Add(w.n.Mul(r))
		x, y = x+q.X, y+q.Y
	}
	n := float64(len(p))
	return geom.Point{X: x / n, Y: y / n}
}

// halfStub recognises a square end of which one corner is hidden: a wall that
// leads straight on from an arm to a sharp corner, and from there across, in
// front of the arm, to a dent.
func (t *tracer) halfStub(near *arm, loop int, p []wallPoint, r *boundary) (stub, bool) {
	at := -1
	for i, w := range p {
		if w.turn > sharpTurn {
			if at >= 0 || w.turn < squareTurn {
				return stub{}, false
			}
			at = i
		}
	}
	if at <= 0 || at == len(p)-1 {
		return stub{}, false
	}
	fromDent := p[0].along != r.pts[0].along // the wall across comes first
	if toDent := p[len(p)-1].along != r.pts[len(r.pts)-1].along; fromDent == toDent {
		return stub{}, false
	}
	wall, across := reversedWalls(p[:at+1]), p[at:]
	if fromDent {
		wall, across = p[at:], reversedWalls(p[:at+1])
	}
	e := across[len(across)-1].at.Sub(p[at].at)
	if e.Norm() < 0.2*near.r || e.Norm() > 1.9*near.r || len(wall) < 2 {
		return stub{}, false
	}
	n := wall[1].n
	if e.Unit().Dot(n) < math.Cos(40*math.Pi/180) {
		return stub{}, false
	}
	c := p[at].at.Add(e.Unit().Mul(near.r / e.Unit().Dot(n)))
	line := offsets(wall[1:], func(float64) float64 { return near.r })
	slices.Reverse(line)
	for len(line) > 0 && (line[len(line)-1].Dist(c) < 0.05*near.r || line[len(line)-1].Sub(c).Dot(wall[1].at.Sub(wall[0].at)) <= 0) {
		line = line[:len(line)-1]
	}
	for len(line) > 1 && line[0].Dist(c) > 0.5*near.r {
		line = line[1:]
	}
	if len(line) == 0 {
		return stub{}, false
	}
	end := EndFlat
	if e.Unit().Dot(n) < math.Cos(20*math.Pi/180) {
		end = EndSlanted
	}
	// Left and right as seen into the zone: the wall, and the end of the piece across.
	left, right := t.contactAt(loop, p[0]), t.contactAt(loop, wall[1])
	if !fromDent {
		left, right = t.contactAt(loop, wall[1]), t.contactAt(loop, p[len(p)-1])
	}
	return newStub(c, near.r, end, line, left, right), true
}

func span(line []geom.Point, c geom.Point) float64 {
	if len(line) == 0 {
		return 0
	}
	return line[0].Dist(c)
}

// contactAt makes a contact of a place on a wall.
func (t *tracer) contactAt(loop int, w wallPoint) medial.Contact {
	return medial.Contact{Loop: loop, Along: w.along, At: w.at}
}

// sampleAt is a centre of the pen without walls of its own.
func sampleAt(c geom.Point, half float64) medial.Sample { return medial.Sample{At: c, Radius: half} }
