package fit

import (
	"math"

	"tubewright/geom"
)

// rounded returns the polyline, thinned to half the tolerance, with a small
// arc in place of each corner. It holds the band whatever the points are.
func rounded(pts []geom.Point, opt Options) geom.Path {
	v := thinned(pts, opt.Tol/2)
	if opt.Closed {
		v = v[:len(v)-1]
	}
	v = withEnds(v, opt)
	v = opened(v, opt)
	n := len(v)
	out := geom.Path{Closed: opt.Closed}
	cut := make([]float64, n) // tangent length at each vertex
	for i := range v {
		if !opt.Closed && (i == 0 || i == n-1) {
			continue
		}
		a, b := v[(i+n-1)%n], v[(i+1)%n]
		half := math.Abs(float64(v[i].Sub(a).TurnTo(b.Sub(v[i])))) / 2
		room := 0.45 * min(v[i].Dist(a), v[i].Dist(b))
		// Largest radius that stays within tol/4 of the corner, and fits.
		r := min(opt.Tol/4/(1/math.Cos(half)-1+1e-12), room/(math.Tan(half)+1e-12))
		cut[i] = r * math.Tan(half)
	}
	first, last := 0, n-1
	if opt.Closed {
		last = n
	}
	for i := first; i < last; i++ {
		a, b := v[i], v[(i+1)%n]
		d := b.Sub(a).Unit()
		p, q := a.Add(d.Mul(cut[i])), b.Add(d.Mul(-cut[(i+1)%n]))
		out.Segments = append(out.Segments, geom.Line{A: p, B: q})
		if cut[(i+1)%n] > 0 {
			next := v[(i+2)%n].Sub(b).Unit()
			out.Segments = append(out.Segments, geom.ArcThrough(q, d, b.Add(next.Mul(cut[(i+1)%n]))))
		}
	}
	return out
}

// withEnds puts a short straight piece in the asked direction at either end.
func withEnds(v []geom.Point, opt Options) []geom.Point {
	if opt.Closed {
		return v
	}
	out := []geom.Point{v[0]}
	if d := opt.StartDir.Unit(); d != (geom.Vec{}) {
		out = append(out, v[0].Add(d.Mul(min(opt.Tol/4, v[0].Dist(v[1])/4))))
	}
	out = append(out, v[1:len(v)-1]...)
	if d := opt.EndDir.Unit(); d != (geom.Vec{}) {
		e := v[len(v)-1]
		out = append(out, e.Add(d.Mul(-min(opt.Tol/4, e.Dist(v[len(v)-2])/4))))
	}
	return append(out, v[len(v)-1])
}

// opened puts two vertices, a little apart, in place of one where the polyline
// turns back so sharply that no arc fits.
func opened(v []geom.Point, opt Options) []geom.Point {
	n := len(v)
	var out []geom.Point
	for i, p := range v {
		if !opt.Closed && (i == 0 || i == n-1) {
			out = append(out, p)
			continue
		}
		a, b := v[(i+n-1)%n], v[(i+1)%n]
		turn := p.Sub(a).TurnTo(b.Sub(p))
		if turn.Abs() < 2.4 {
			out = append(out, p)
			continue
		}
		side := p.Sub(a).Unit().Left()
		if turn < 0 {
			side = side.Neg()
		}
		side = side.Mul(min(opt.Tol/4, p.Dist(a)/8, p.Dist(b)/8))
		if i == n-2 && (i > 1 || opt.StartDir == (geom.Vec{})) { // the last edge keeps its direction, every other the one before
			out = append(out, p.Add(side.Neg()), p)
		} else {
			out = append(out, p, p.Add(side))
		}
	}
	return out
}

// thinned drops vertices within tol of the line between those kept (Ramer
// 1972, Douglas and Peucker 1973).
func thinned(pts []geom.Point, tol float64) []geom.Point {
	keep := make([]bool, len(pts))
	keep[0], keep[len(pts)-1] = true, true
	todo := [][2]int{{0, len(pts) - 1}}
	if pts[0] == pts[len(pts)-1] { // a ring: part it at its farthest point
		far := 0
		for i, p := range pts {
			if p.Dist(pts[0]) > pts[far].Dist(pts[0]) {
				far = i
			}
		}
		keep[far] = true
		todo = [][2]int{{0, far}, {far, len(pts) - 1}}
	}
	for len(todo) > 0 {
		a, b := todo[len(todo)-1][0], todo[len(todo)-1][1]
		todo = todo[:len(todo)-1]
		l := geom.Line{A: pts[a], B: pts[b]}
		worst, at := tol, 0
		back := false
		for i := a + 1; i < b; i++ {
			d := l.PointAt(l.Nearest(pts[i])).Dist(pts[i])
			if d > worst {
				worst, at = d, i
			}
			back = back || pts[i].Sub(pts[i-1]).Dot(l.B.Sub(l.A)) < 0
		}
		if at == 0 && back { // turns back along the line: order matters, keep
			at = (a + b) / 2
			if at == a {
				at = 0
			}
		}
		if at > 0 {
			keep[at] = true
			todo = append(todo, [2]int{a, at}, [2]int{at, b})
		}
	}
	var out []geom.Point
	for i, k := range keep {
		if k {
			out = append(out, pts[i])
		}
	}
	return out
}

// last answers where MinRadius forbids everything else: the circle as long as
// the polyline, the straight line, or the shortest path of two arcs and a line
// that takes the asked directions (Dubins 1957).
func (f *fitter) last() geom.Path {
	r := f.opt.MinRadius
	if f.opt.Closed {
		return f.ring()
	}
	a, b := f.pts[0], f.pts[len(f.pts)-1]
	if a == b { // the end meets the start: once round
		d := f.opt.StartDir
		if d == (geom.Vec{}) {
			d = f.pts[1].Sub(a)
		}
		side := d.Unit().Left()
		if totalTurn(f.pts, false) < 0 {
			side = side.Neg()
		}
		c := a.Add(side.Mul(r))
		return geom.Path{Segments: []geom.Segment{geom.Arc{Centre: c, Radius: r, From: a.Sub(c).Heading(),
			Sweep: geom.Angle(math.Copysign(2*math.Pi, d.Cross(side)))}}}
	}
	da, db := f.opt.StartDir, f.opt.EndDir
	if da == (geom.Vec{}) && db == (geom.Vec{}) {
		return geom.Path{Segments: []geom.Segment{geom.Line{A: a, B: b}}}
	}
	chord := b.Sub(a)
	if da == (geom.Vec{}) {
		da = chord
	}
	if db == (geom.Vec{}) {
		db = chord
	}
	return dubins(a, da.Unit(), b, db.Unit(), r)
}

// ring returns the circle about the polyline's middle with its length.
func (f *fitter) ring() geom.Path {
	var x, y, total float64
	for i, p := range f.pts[1:] {
		w := p.Dist(f.pts[i])
		m := p.Lerp(f.pts[i], 0.5)
		x += float64(w * m.X)
		y += float64(w * m.Y)
		total += w
	}
	c := geom.Point{X: x / total, Y: y / total}
	sweep := geom.Angle(math.Copysign(2*math.Pi, totalTurn(f.pts, true)))
	return geom.Path{Closed: true, Segments: []geom.Segment{geom.Arc{
		Centre: c, Radius: max(f.opt.MinRadius, total/(2*math.Pi)),
		From: f.pts[0].Sub(c).Heading(), Sweep: sweep,
	}}}
}

// dubins returns the shortest arc-line-arc path; one of the four always exists.
func dubins(a geom.Point, da geom.Vec, b geom.Point, db geom.Vec, r float64) geom.Path {
	var best geom.Path
	for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
		ca, cb := a.Add(da.Left().Mul(s[0]*r)), b.Add(db.Left().Mul(s[1]*r))
		v := cb.Sub(ca)
		n := v.Norm()
		dir := v.Unit()
		if s[0] != s[1] {
			if n < 2*r {
				continue
			}
			dir = dir.Turned(geom.Angle(s[0] * math.Asin(2*r/n)))
		}
		if dir == (geom.Vec{}) {
			dir = db
		}
		p := ca.Add(dir.Left().Mul(-s[0] * r))
		q := cb.Add(dir.Left().Mul(-s[1] * r))
		var path geom.Path
		add := func(c geom.Point, side float64, from, to geom.Vec) {
			turn := math.Mod(side*float64(from.TurnTo(to)), 2*math.Pi)
			if turn < 0 {
				turn += 2 * math.Pi
			}
			if turn > 1e-12 && turn < 2*math.Pi-1e-9 {
				path.Segments = append(path.Segments, geom.Arc{Centre: c, Radius: r,
					From: from.Left().Mul(-side).Heading(), Sweep: geom.Angle(side * turn)})
			}
		}
		add(ca, s[0], da, dir)
		if p.Dist(q) > 1e-9*r {
			path.Segments = append(path.Segments, geom.Line{A: p, B: q})
		}
		add(cb, s[1], dir, db)
		if len(path.Segments) > 0 && (len(best.Segments) == 0 || path.Length() < best.Length()) {
			best = path
		}
	}
	return best
}
