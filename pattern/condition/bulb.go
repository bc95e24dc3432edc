package condition

import (
	"math"

	"tubewright/geom"
)

// bulbTurn is the turn from which a corner may become a bulb: under it a plain
// arc is always nearer to the drawing.
const bulbTurn = 100 * math.Pi / 180

// bulbOf returns the bend of radius r that goes round a sharp corner where a
// plain arc has no room or would cut off too much: out, round the tip, and back
// in. The tip reaches the drawn corner, so only the sides swell, by less than
// r, and at most 2.8 r is taken of straight legs. A leg shorter than that whose
// far end is an end of the stroke is swung to touch the arc round the tip.
//
//	   .-tip-.        M  centre of the arc round the tip
//	  (   M   )       O  centres outside the legs, 2r from M
//	O  `.   .'  O
//	     ) (
//	    a   b         legs
func bulbOf(a, b geom.Path, turn geom.Angle, r float64, free [2]bool) fillet {
	side := 1.0
	if turn < 0 {
		side = -1
	}
	out := a.EndDir().Sub(b.StartDir()).Unit()
	m := a.End().Add(out.Mul(-r))
	in, ok := sideOfBulb(a.Reversed(), m, -side, r, free[0])
	if !ok {
		return fillet{}
	}
	away, ok := sideOfBulb(b, m, side, r, free[1])
	if !ok {
		return fillet{}
	}
	f := fillet{back: in.taken, ahead: away.taken, ok: true}
	if in.seg != nil {
		f.segs = append(f.segs, in.seg.Reversed())
	}
	f.segs = append(f.segs, arcAbout(m, in.touch, away.touch, side, r))
	if away.seg != nil {
		f.segs = append(f.segs, away.seg)
	}
	return f
}

// bulbSide is how a bulb passes into a leg.
type bulbSide struct {
	touch geom.Point   // where the arc round the tip ends
	seg   geom.Segment // from there to the leg, or to the end of the stroke
	taken float64      // mm of the leg it takes the place of
}

// sideOfBulb returns the way from the arc about m, turning to the given side,
// into a leg that starts at the corner.
func sideOfBulb(leg geom.Path, m geom.Point, side, r float64, free bool) (bulbSide, bool) {
	n := leg.Length()
	outer := func(s float64) geom.Point {
		return leg.PointAt(s).Add(leg.DirAt(s).Left().Mul(-side * r))
	}
	gap := func(s float64) float64 { return outer(s).Dist(m) - 2*r }
	limit, step := min(n, 4*r), r/16
	for lo := 0.0; lo < limit; lo += step {
		hi := min(lo+step, limit)
		if gap(lo) > 0 || gap(hi) < 0 {
			continue
		}
		for range 80 {
			if mid := (lo + hi) / 2; gap(mid) < 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		o := outer(hi)
		touch := o.Lerp(m, 0.5)
		arc := arcAbout(o, touch, leg.PointAt(hi), -side, r)
		if arc.Sweep.Abs() > 0.8*math.Pi || arc.Length() < 1e-9 {
			return bulbSide{}, false
		}
		return bulbSide{touch, arc, hi}, true
	}
	if !free {
		return bulbSide{}, false
	}
	end := leg.End()
	away := end.Sub(m)
	if away.Norm() < 1.05*r {
		return bulbSide{}, false
	}
	angle := away.Heading() - geom.Angle(side*math.Acos(r/away.Norm()))
	touch := m.Add(geom.UnitAt(angle).Mul(r))
	return bulbSide{touch, geom.Line{A: touch, B: end}, n}, true
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
