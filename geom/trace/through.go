package trace

import (
	"math"

	"tubewright/geom"
)

// through returns the centres between two arms.
func (t *tracer) through(a, b *arm, runs []boundary) ([]geom.Point, int) {
	most := capFull
	if len(runs) == 2 { // two arms: the wall may swing right round the tip of a hairpin
		most = hairpin
	}
	if r, back := sharedRun(a, b, runs, most); r != nil {
		return alongWall(a, b, r, back)
	}
	toB, toA := a.towards(b, runs), b.towards(a, runs)
	if t.evenPen() {
		toB, toA = t.approach(a, b, runs)
	}
	a, b = &toB, &toA
	ta, tb := a.tipOf(), b.tipOf()
	turn := math.Abs(float64(ta.d.TurnTo(tb.d.Neg())))
	if turn > 25*math.Pi/180 {
		if c, ok := crossingOf(a, b, ta, tb); ok {
			return c.fill, c.corner
		}
	}
	a2, b2 := parted(a, b)
	ta, tb = a2.tipOf(), b2.tipOf()
	fill := append([]geom.Point(nil), a2.ext...)
	fill = append(fill, bridge(ta, tb, ta.p.Dist(tb.p), 0.2*a.r)...)
	for i := len(b2.ext) - 1; i >= 0; i-- {
		fill = append(fill, b2.ext[i])
	}
	return fill, -1
}

// approach returns two arms as they go on to each other, without what of their
// one-sided centres lies past the other's. Of an even pen either wall may be
// the one that leads to the other arm: the ways that join with the least turn.
func (t *tracer) approach(a, b *arm, runs []boundary) (arm, arm) {
	toB, toA := a.towards(b, runs), b.towards(a, runs)
	bestA, bestB := parted(&toB, &toA)
	if !t.evenPen() {
		return bestA, bestB
	}
	least := approachCost(&bestA, &bestB)
	for _, ea := range a.side {
		for _, eb := range b.side {
			x, y := *a, *b
			x.ext, y.ext = ea, eb
			x, y = parted(&x, &y)
			if 2*len(x.ext) < len(ea) || 2*len(y.ext) < len(eb) { // they lead past each other
				continue
			}
			if c := approachCost(&x, &y); c < least-sideGain {
				bestA, bestB, least = x, y, c
			}
		}
	}
	return bestA, bestB
}

// sideGain is the turn, radians, by which another wall must lead straighter to
// be followed instead of the longest.
const sideGain = 0.1

// approachCost is the turn left between two arms, and a little for the gap.
func approachCost(a, b *arm) float64 {
	ta, tb := a.tipOf(), b.tipOf()
	return bend(ta, tb) + 0.05*ta.p.Dist(tb.p)/a.r
}

// parted cuts two arms' one-sided centres back until they no longer overlap:
// two views of one stretch must not run back over each other.
func parted(a, b *arm) (arm, arm) {
	ea, eb := a.ext, b.ext
	for len(ea)+len(eb) > 0 {
		pa, pb := endOfExt(a.p, ea), endOfExt(b.p, eb)
		way := pb.Sub(pa)
		if way.Dot(dirOfExt(a, ea)) > 0.3*a.r && way.Dot(dirOfExt(b, eb)) < -0.3*a.r || way.Norm() < 0.05*a.r {
			break
		}
		if len(ea) >= len(eb) {
			ea = ea[:len(ea)-1]
		} else {
			eb = eb[:len(eb)-1]
		}
	}
	a2, b2 := *a, *b
	a2.ext, b2.ext = ea, eb
	return a2, b2
}

// dirOfExt returns the direction in which an arm leaves the last of the centres.
func dirOfExt(a *arm, ext []geom.Point) geom.Vec {
	n := len(ext)
	switch {
	case n == 0:
		return a.d
	case n == 1:
		return ext[0].Sub(a.p).Unit()
	}
	return ext[n-1].Sub(ext[max(n-3, 0)]).Unit()
}

func endOfExt(p geom.Point, ext []geom.Point) geom.Point {
	if len(ext) == 0 {
		return p
	}
	return ext[len(ext)-1]
}

// sharedRun returns the wall, if any, that both arms share without a break and
// that turns away from the ink by less than most,
// and whether it leads from b to a.
func sharedRun(a, b *arm, runs []boundary, most float64) (r *boundary, back bool) {
	if r := &runs[a.runRight]; b.runLeft == a.runRight && r.clean && r.convex < most {
		return r, false
	}
	if r := &runs[b.runRight]; a.runLeft == b.runRight && r.clean && r.convex < most {
		return r, true
	}
	return nil, false
}

// hairpin is the most that the outside of a bend or corner turns.
const hairpin = 250 * math.Pi / 180

type cornerFill struct {
	fill   []geom.Point
	corner int
}

// crossingOf takes both arms straight on, from wherever their one-sided
// centres end, to where they cross.
func crossingOf(a, b *arm, ta, tb tip) (cornerFill, bool) {
	reach := 3*ta.p.Dist(tb.p) + 4*a.r
	pa := append(append([]geom.Point{a.p}, a.ext...), ta.ahead(0.25*a.r, reach)...)
	pb := append(append([]geom.Point{b.p}, b.ext...), tb.ahead(0.25*a.r, reach)...)
	x, i, j, ok := firstCrossing(pa, pb)
	if !ok {
		return cornerFill{}, false
	}
	var f cornerFill
	f.fill = append(f.fill, pa[1:i+1]...)
	f.corner = len(f.fill)
	f.fill = append(f.fill, x)
	for k := j; k >= 1; k-- {
		f.fill = append(f.fill, pb[k])
	}
	return f, true
}

// firstCrossing returns where polyline a first meets polyline b, on edges i
// and j.
func firstCrossing(a, b []geom.Point) (geom.Point, int, int, bool) {
	for i := 0; i+1 < len(a); i++ {
		u := a[i+1].Sub(a[i])
		best, at := math.Inf(1), -1
		for j := 0; j+1 < len(b); j++ {
			v := b[j+1].Sub(b[j])
			den := u.Cross(v)
			if den == 0 {
				continue
			}
			w := b[j].Sub(a[i])
			s, q := w.Cross(v)/den, w.Cross(u)/den
			if s >= 0 && s <= 1 && q >= 0 && q <= 1 && s < best {
				best, at = s, j
			}
		}
		if at >= 0 {
			return a[i].Add(u.Mul(best)), i, at, true
		}
	}
	return geom.Point{}, 0, 0, false
}

// bridge returns points of the cubic that leaves tip a and arrives at tip b
// with their directions, without its ends.
func bridge(a, b tip, gap, step float64) []geom.Point {
	n := int(min(math.Ceil(gap/step), mostSteps))
	var out []geom.Point
	c1, c2 := a.p.Add(a.d.Mul(gap/3)), b.p.Add(b.d.Mul(gap/3))
	for i := 1; i < n; i++ {
		out = append(out, geom.Curve{Kind: geom.CubicTo, C1: c1, C2: c2, To: b.p}.At(a.p, float64(i)/float64(n)))
	}
	return out
}
