package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

const (
	glideNear   = 1.0                // half-widths between an arm's last centre and the stroke it runs beside
	glideLeast  = 14 * math.Pi / 180 // angle from which it goes straight on instead
	glideMost   = 45 * math.Pi / 180 // that the arm may still turn
	glideWide   = 2.0                // times its own radius that it may be opened to
	glideTight  = 2.0                // half-widths of the least radius it may be bent to
	glideReach  = 8.0                // half-widths within which it must come to the stroke
	slideNear   = 0.6                // half-widths beside the stroke from which it may be moved over
	slideLeast  = 2.0                // half-widths of way for that
	glideHalves = 40                 // halvings that find the curvature
)

// glide lets an arm that runs in beside a stroke and ends before it reaches
// it, as a bowl does that is drawn thinner where it leaves its stem, run into
// the stroke without a corner: from one of its centres on along the circle that
// touches the stroke. An arm that comes more steeply goes straight on; one that
// does not come nearer is moved over. It reports false where the arm does not come so.
//
//	host ──────────────●───────────   from the centre c, in the arm's direction
//	            ,--''   ^ touches     there, bent so that it touches the host;
//	    c  ,-''                       the arm's own centres end at x
//	    ●'     x
func glide(a *arm, hosts []host, runs []boundary) (int, []geom.Point, bool) {
	back := slices.Concat([]geom.Point{a.p}, a.ext)
	slices.Reverse(back)
	back = append(back, a.back[1:]...)
	at, near := 0, math.Inf(1)
	for h := range hosts {
		if _, d := nearestOn(hosts[h].line, back[0]); d < near {
			at, near = h, d
		}
	}
	if near > glideNear*a.r {
		return 0, nil, false
	}
	d := dirOfExt(a, a.ext)
	if way, ok := (tip{p: back[0], d: d}).crosses(hosts[at].line, a.r); ok && meetsAt(d, way, hosts[at].line) > glideLeast {
		return at, slices.Concat(a.ext, way), true
	}
	for k := range a.ext {
		d, bend := heading(back[k:], fitWindow*a.r)
		on, ok := touchingTip(tip{p: back[k], d: d}, hosts[at].line, a.r)
		if !ok || glideWide*math.Abs(on.k) < math.Abs(bend) {
			continue
		}
		way, _ := on.crosses(hosts[at].line, a.r)
		if slices.ContainsFunc(way, func(p geom.Point) bool { return clearance(runs, p) < leastClear*a.r }) {
			continue
		}
		return at, slices.Concat(a.ext[:len(a.ext)-k], way), true
	}
	if near > slideNear*a.r || wayOf(a.p, a.ext) < slideLeast*a.r || meetsAt(d, back[:1], hosts[at].line) > glideLeast {
		return 0, nil, false
	}
	return at, a.slide(hosts[at].line), true
}

// slide moves the one-sided centres of an arm that runs along a line over to it,
// all of the way at the last.
func (a *arm) slide(line []geom.Point) []geom.Point {
	end, _ := nearestOn(line, a.ext[len(a.ext)-1])
	gap, total := end.Sub(a.ext[len(a.ext)-1]), wayOf(a.p, a.ext)
	out := slices.Clone(a.ext)
	way, last := 0.0, a.p
	for i, p := range a.ext {
		way += p.Dist(last)
		last = p
		s := way / total
		out[i] = p.Add(gap.Mul(s * s * (3 - 2*s)))
	}
	return out
}

// meetsAt is the angle between d and the line where the way ends on it.
func meetsAt(d geom.Vec, way, line []geom.Point) float64 {
	end := way[len(way)-1]
	best, sin := math.Inf(1), 0.0
	for i := 1; i < len(line); i++ {
		if _, dist := nearestOn(line[i-1:i+1], end); dist < best {
			best, sin = dist, math.Abs(line[i].Sub(line[i-1]).Unit().Cross(d))
		}
	}
	return math.Asin(min(sin, 1))
}

// touchingTip bends a tip that comes straight on to a line until it only just
// reaches it.
func touchingTip(t tip, line []geom.Point, r float64) (tip, bool) {
	q, _ := nearestOn(line, t.p)
	side := math.Copysign(1, t.d.Cross(t.p.Sub(q))) // away from the line
	if _, ok := t.crosses(line, r); !ok {
		return tip{}, false
	}
	lo, hi := 0.0, 1/(glideTight*r)
	t.k = side * hi
	if _, ok := t.crosses(line, r); ok {
		return tip{}, false
	}
	for range glideHalves {
		t.k = side * (lo + hi) / 2
		if _, ok := t.crosses(line, r); ok {
			lo = (lo + hi) / 2
		} else {
			hi = (lo + hi) / 2
		}
	}
	t.k = side * lo
	return t, true
}

// crosses returns the tip's way on to where it first crosses the line.
func (t tip) crosses(line []geom.Point, r float64) ([]geom.Point, bool) {
	way := glideReach * r
	if t.k != 0 {
		way = min(way, glideMost/math.Abs(t.k))
	}
	pts := append([]geom.Point{t.p}, t.ahead(0.2*r, way)...)
	x, i, _, ok := firstCrossing(pts, line)
	return append(pts[1:i+1], x), ok
}
