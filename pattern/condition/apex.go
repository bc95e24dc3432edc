package condition

import (
	"math"
	"slices"

	"tubewright/geom"
)

const (
	// apexAngle is the widest angle between legs that counts as pointed.
	apexAngle = 75 * math.Pi / 180
	// level is the slope up to which a leg counts as level: it keeps the height
	// whatever happens to the corner.
	level = 15 * math.Pi / 180
)

// pointed returns the direction in which corner i is a pointed extreme of the
// stroke as drawn: up or down where both legs fall or rise from it, outward
// along a level leg, as in Z; zero elsewhere.
func (c *chain) pointed(i int) geom.Vec {
	a, b, ok := c.legs(i)
	if !ok || math.Pi-float64(c.corners[i].turn.Abs()) > apexAngle {
		return geom.Vec{}
	}
	in, back := a.EndDir(), b.StartDir().Neg() // both toward the corner
	flat := math.Sin(level)
	switch {
	case in.Y > flat && back.Y > flat:
		return geom.Vec{Y: 1}
	case in.Y < -flat && back.Y < -flat:
		return geom.Vec{Y: -1}
	case math.Abs(in.Y) <= flat && math.Abs(back.Y) > flat:
		return in
	case math.Abs(back.Y) <= flat && math.Abs(in.Y) > flat:
		return back
	}
	return geom.Vec{}
}

// apexAt returns pointed(i) where the corner can be carried: both legs can be
// led to another place.
func (c *chain) apexAt(i int) geom.Vec {
	a, b, ok := c.legs(i)
	if !ok || len(c.runs) == 1 {
		return geom.Vec{}
	}
	if _, ok := ledTo(a, a.End()); !ok {
		return geom.Vec{}
	}
	if _, ok := ledTo(b.Reversed(), b.Start()); !ok {
		return geom.Vec{}
	}
	return c.pointed(i)
}

// ledTo returns the run with its end moved to v, its start where it was: a line
// is swung, a line after an arc is swung about the arc, touching it, and a
// slight curve is turned and stretched whole. It reports false where the run
// is none of these or would change its character.
func ledTo(run geom.Path, v geom.Point) (geom.Path, bool) {
	n := len(run.Segments)
	_, straight := run.Segments[n-1].(geom.Line)
	if straight && n == 1 {
		return geom.Path{Segments: []geom.Segment{geom.Line{A: run.Start(), B: v}}}, v != run.Start()
	}
	if straight {
		arc, ok := run.Segments[n-2].(geom.Arc)
		if !ok {
			return run, false
		}
		return ledFrom(run.Segments[:n-2], arc, v)
	}
	turn := 0.0
	for _, g := range run.Segments {
		turn += g.Curvature() * g.Length()
	}
	from, to := run.End().Sub(run.Start()), v.Sub(run.Start())
	scale := to.Norm() / from.Norm()
	if math.Abs(turn) > slight || !(scale > 1/stretched && scale < stretched) {
		return run, false
	}
	back := run.Map(geom.SimilarityMap{Scale: 1, Move: geom.Point{}.Sub(run.Start())})
	return back.Map(geom.SimilarityMap{Scale: scale, Turn: from.TurnTo(to), Move: run.Start().Sub(geom.Point{})}), true
}

const (
	slight    = 50 * math.Pi / 180 // most a curve turns that may be led whole
	stretched = 1.6                // and most it may grow or shrink
	reswept   = 40 * math.Pi / 180 // most an arc may be lengthened or shortened
)

// ledFrom returns the run of the given segments, the arc as far as the tangent
// to v leaves it, and that tangent.
func ledFrom(before []geom.Segment, arc geom.Arc, v geom.Point) (geom.Path, bool) {
	side := 1.0
	if arc.Sweep < 0 {
		side = -1
	}
	away := v.Sub(arc.Centre)
	if away.Norm() <= arc.Radius {
		return geom.Path{}, false
	}
	touch := away.Heading() - geom.Angle(side*math.Acos(arc.Radius/away.Norm()))
	change := (touch - arc.From - arc.Sweep).Normalised()
	sweep := arc.Sweep + change
	if change.Abs() > reswept || side*float64(sweep) < 0.1 {
		return geom.Path{}, false
	}
	arc.Sweep = sweep
	return geom.Path{Segments: slices.Concat(before, []geom.Segment{arc, geom.Line{A: arc.End(), B: v}})}, true
}

// carry moves each apex outward until its rounded tip reaches as far as the
// drawn corner. Legs between two apexes move at both ends, so it goes round
// until all are at rest.
//
//	     V carried         b  half the angle between the legs
//	    /|\                tip = V - R/sin b + R
//	---/-o-\--- as drawn
//	  /     \              far ends of the legs stay
//
// It gives up the apexes whose legs cannot be led there, and reports whether
// there were any.
func (c *chain) carry() bool {
	n := len(c.runs)
	gaveUp := false
	for range 100 {
		moved := 0.0
		for i := range c.corners {
			x := &c.corners[i]
			if x.apex == (geom.Vec{}) {
				continue
			}
			a, b, _ := c.legs(i)
			na, nb, ok := carried(*x, a, b)
			if !ok {
				x.apex, gaveUp = geom.Vec{}, true
				continue
			}
			moved = max(moved, na.End().Dist(a.End()))
			c.runs[(i+n-1)%n], c.runs[i] = na, nb
		}
		if moved < 1e-9 {
			break
		}
	}
	return gaveUp
}

// carried returns the legs of a corner led to the vertex whose tip, rounded,
// reaches as far out as the corner was drawn.
func carried(x corner, a, b geom.Path) (na, nb geom.Path, ok bool) {
	// short is how far the tip stays behind with the vertex h outward.
	short := func(h float64) (float64, bool) {
		v := x.at.Add(x.apex.Mul(h))
		var okA, okB bool
		na, okA = ledTo(a, v)
		nb, okB = ledTo(b.Reversed(), v)
		if !okA || !okB {
			return 0, false
		}
		nb = nb.Reversed()
		p, q := na.EndDir().Neg(), nb.StartDir()
		half := float64(p.TurnTo(q).Abs()) / 2
		centre := v.Add(p.Add(q).Unit().Mul(x.radius / math.Sin(half)))
		return x.at.Sub(centre).Dot(x.apex) - x.radius, true
	}
	if s, ok := short(0); !ok || s <= 0 {
		return na, nb, ok
	}
	lo, hi := 0.0, x.radius/2
	for {
		s, ok := short(hi)
		if !ok || hi > 100*x.radius {
			return a, b, false
		}
		if s <= 0 {
			break
		}
		lo, hi = hi, 1.5*hi
	}
	for range 100 {
		mid := (lo + hi) / 2
		if s, ok := short(mid); ok && s > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	_, ok = short(hi)
	return na, nb, ok
}

// dropApexes gives up carrying the apexes that found no room, and reports
// whether there were any.
func (c *chain) dropApexes() bool {
	found := false
	for i := range c.corners {
		if x := &c.corners[i]; x.apex != (geom.Vec{}) && x.failed {
			x.apex, found = geom.Vec{}, true
		}
	}
	return found
}
