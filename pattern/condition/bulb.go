package condition

import (
	"math"

	"tubewright/geom"
)

// bulbTurn is the turn from which a corner may become a bulb: under it a plain
// arc is always nearer to the drawing.
const bulbTurn = 100 * math.Pi / 180

// bulbOf returns the three arcs of radius r that go round a sharp corner where
// a plain arc has no room or would cut off too much: out, round the tip, and
// back in. The tip reaches the drawn corner, so only the sides swell, by less
// than r, and little more than 2.7 r is taken of each leg.
//
//	   .-tip-.        M  centre of the arc round the tip
//	  (   M   )       O  centres outside the legs, 2r from M
//	O  `.   .'  O
//	     ) (
//	    a   b         legs
func bulbOf(a, b geom.Path, turn geom.Angle, r float64) fillet {
	side := 1.0
	if turn < 0 {
		side = -1
	}
	corner := a.End()
	out := a.EndDir().Sub(b.StartDir()).Unit()
	room := min(a.Length(), b.Length())
	outer := func(p geom.Path, s float64) geom.Point {
		return p.PointAt(s).Add(p.DirAt(s).Left().Mul(-side * r))
	}
	var o1, o2, m geom.Point
	// tip is how far the tip lies beyond the corner when u of each leg is taken.
	tip := func(u float64) (float64, bool) {
		o1, o2 = outer(a, a.Length()-u), outer(b, u)
		half := o2.Sub(o1).Mul(0.5)
		h := float64(4*r*r) - half.Dot(half)
		if h <= 0 || half.Norm() == 0 {
			return 0, false
		}
		up := half.Unit().Left()
		if up.Dot(out) < 0 {
			up = up.Neg()
		}
		m = o1.Add(half).Add(up.Mul(math.Sqrt(h)))
		return m.Sub(corner).Dot(out) + r, true
	}
	lo, hi := 0.0, min(room, 4*r)
	if t, ok := tip(hi); !ok || t > 0 {
		return fillet{}
	}
	for range 80 {
		mid := (lo + hi) / 2
		if t, ok := tip(mid); ok && t <= 0 {
			hi = mid
		} else {
			lo = mid
		}
	}
	if _, ok := tip(hi); !ok {
		return fillet{}
	}
	p, q := a.PointAt(a.Length()-hi), b.PointAt(hi)
	t1, t2 := o1.Lerp(m, 0.5), o2.Lerp(m, 0.5)
	arcs := []geom.Arc{
		arcAbout(o1, p, t1, -side, r), arcAbout(m, t1, t2, side, r), arcAbout(o2, t2, q, -side, r),
	}
	if arcs[0].Sweep.Abs() > math.Pi || arcs[2].Sweep.Abs() > math.Pi {
		return fillet{}
	}
	return fillet{back: hi, ahead: hi, ok: true, arcs: arcs}
}

// arcAbout returns the arc of radius r about c from p to q, turning left for
// side +1, right for -1.
func arcAbout(c, p, q geom.Point, side, r float64) geom.Arc {
	from := p.Sub(c)
	sweep := from.TurnTo(q.Sub(c))
	if side*float64(sweep) < 0 {
		sweep += geom.Angle(side * 2 * math.Pi)
	}
	return geom.Arc{Centre: c, Radius: r, From: from.Heading(), Sweep: sweep}
}
