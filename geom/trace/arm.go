package trace

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/medial"
)

// arm is the end of a link where it runs into a zone.
type arm struct {
	link, end   int
	p           geom.Point // the last trusted centre
	d           geom.Vec   // direction into the zone
	k           float64    // curvature there, left positive, 1/mm
	r           float64    // half-width there
	left, right medial.Contact
	back        []geom.Point // trusted centres, nearest first
	runLeft     int          // index of the zone's boundary runs on either side
	runRight    int
	ext         []geom.Point    // centres found from one wall alone, going into the zone
	side        [2][]geom.Point // the same, from the left and the right wall
	done        *join
	group       int  // arms of one group hang together outside the zone; 0: by their link alone
	stub        bool // the end of a stroke too short for a link of its own
}

// join is how an arm goes on.
type join struct {
	half   []float64    // half-widths of fill
	fill   []geom.Point // centres from the arm's last trusted one (not included) on
	to     *arm         // the arm it goes through to, or nil
	end    EndKind      // where to is nil
	swell  float64      // half-width at a ball, else 0
	corner int          // index in fill of a corner, or -1
	onto   *join        // for EndJunction: the join it meets, or nil for a bare point
	point  *geom.Point  // shared junction point for a bare meeting
	twin   *join        // the same way seen from the other arm
	owner  int          // number of the draft it became part of
}

// sampleFromEnd returns sample i of the link counted from the arm's end,
// facing into the zone.
func (t *tracer) sampleFromEnd(l, end, i int) medial.Sample {
	s := t.links[l].s
	if end == 1 {
		return s[len(s)-1-i]
	}
	return s[i].Reversed()
}

const fitWindow = 2.0 // half-widths of trusted centreline that give an arm's direction

// setUp works out an arm's place, direction and curvature.
func (t *tracer) setUp(a *arm) {
	n := len(t.links[a.link].s)
	first := t.sampleFromEnd(a.link, a.end, 0)
	a.p, a.left, a.right = first.At, first.Left, first.Right
	a.back = nil
	way := 0.0
	last := a.p
	var rs []float64
	for i := 0; i < n; i++ {
		s := t.sampleFromEnd(a.link, a.end, i)
		way += s.At.Dist(last)
		last = s.At
		a.back = append(a.back, s.At)
		rs = append(rs, s.Radius)
		if way > 6*first.Radius {
			break
		}
	}
	a.r = max(quantile(rs[:min(len(rs), 9)], 0.5), 1e-3*t.w)
	a.d, a.k = heading(a.back, fitWindow*a.r)
	if a.d == (geom.Vec{}) { // centres all in one place: square to the walls
		a.d = a.right.At.Sub(a.left.At).Left().Unit()
	}
	if a.d == (geom.Vec{}) {
		a.d = geom.Vec{X: 1}
	}
}

// quantile returns the value that a share q of v stays under.
func quantile(v []float64, q float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return v[int(q*float64(len(v)-1)+0.5)]
}

const (
	trimWindow = 5.0  // half-widths of link that give its level radius
	trimMost   = 2.5  // half-widths that may be cut off an end
	trimLevel  = 0.01 // growth over the level that is no longer trusted
)

// trim cuts the ends of a link back to where its radius leaves the level it
// has further in: where two strokes run together it grows before anything
// else shows.
func (l *link) trim() {
	for end, z := range l.zone {
		if z < 0 {
			continue
		}
		if end == 1 {
			slices.Reverse(l.s)
		}
		kept := trimmed(l.s)
		l.cut[end] = nil
		for i := len(l.s) - len(kept) - 1; i >= 0; i-- {
			l.cut[end] = append(l.cut[end], l.s[i].At)
		}
		l.s = kept
		if end == 1 {
			slices.Reverse(l.s)
		}
	}
}

// trimmed trims the front of s; which wall is left does not matter here.
func trimmed(s []medial.Sample) []medial.Sample {
	total := pathLength(s)
	var rs, ways []float64
	way := 0.0
	for i, x := range s {
		if i > 0 {
			way += x.At.Dist(s[i-1].At)
		}
		if way > min(trimWindow*s[0].Radius, max(total/2, 1.5*s[0].Radius)) && i > 2 {
			break
		}
		rs, ways = append(rs, x.Radius), append(ways, way)
	}
	low, mid := quantile(rs, 0.1), quantile(rs, 0.5)
	level := quantile(rs, 0.25)
	limit := level * (1 + max(trimLevel, 2*(mid-low)/mid))
	cut := 0
	floor := level * (1 - max(trimLevel, 3*(mid-level)/mid)) // the last of an axis may wander into the round of an end
	for cut+2 < len(rs) && (rs[cut] > limit || rs[cut] < floor && ways[cut] < 0.6*level) && ways[cut] < min(trimMost*level, total/2) {
		cut++
	}
	return s[cut:]
}

// heading fits a parabola to the points within window of the first and
// returns the direction in which the first is left by going on (so against
// the order of the points) and the curvature there.
func heading(pts []geom.Point, window float64) (geom.Vec, float64) {
	n, way := 1, 0.0
	for n < len(pts) {
		way += pts[n].Dist(pts[n-1])
		n++
		if way >= window {
			break
		}
	}
	if n < 2 || way == 0 {
		return geom.Vec{}, 0
	}
	u := pts[0].Sub(pts[n-1]).Unit()
	if n == 2 {
		return u, 0
	}
	v := u.Left()
	// y = b x + c x² through the first point, least squares
	var s2, s3, s4, sy1, sy2 float64
	for _, p := range pts[1:n] {
		q := p.Sub(pts[0])
		x, y := q.Dot(u), q.Dot(v)
		s2 += x * x
		s3 += x * x * x
		s4 += x * x * x * x
		sy1 += x * y
		sy2 += x * x * y
	}
	det := float64(s2*s4) - float64(s3*s3)
	if det <= 1e-9*s2*s4 {
		return u, 0
	}
	b := (float64(sy1*s4) - float64(sy2*s3)) / det
	c := (float64(s2*sy2) - float64(s3*sy1)) / det
	m := math.Hypot(1, b)
	return u.Add(v.Mul(b)).Unit(), 2 * c / (m * m * m)
}

// extend finds an arm's centres inside the zone from whichever wall leads
// further, up to limit mm.
func (t *tracer) extend(a *arm, runs []boundary, limit float64) {
	constant := func(float64) float64 { return a.r }
	rightWall, leftWall := runs[a.runRight].pts, reversedWalls(runs[a.runLeft].pts)
	if len(runs) == 1 { // up to the round of its own end
		rightWall, leftWall = rightWall[:capStart(rightWall, a.r)], leftWall[:capStart(leftWall, a.r)]
	}
	right, left := offsets(rightWall, constant), offsets(leftWall, constant)
	r, l := a.forward(right, limit), a.forward(left, limit)
	a.ext, a.side = r, [2][]geom.Point{l, r}
	if wayOf(a.p, l) > wayOf(a.p, r) {
		a.ext = l
	}
}

// sideLeast is how many half-widths of centres a wall must tell to be followed.
const sideLeast = 0.3

// towards returns the arm as it goes on to arm b. A wall that leads whole to
// another arm is that one's and tells nothing of the way to b: then the other
// wall is followed.
func (a *arm) towards(b *arm, runs []boundary) arm {
	out := *a
	right, left := &runs[a.runRight], &runs[a.runLeft]
	rightTaken, leftTaken := right.clean && b.runLeft != a.runRight, left.clean && b.runRight != a.runLeft
	switch {
	case rightTaken && !leftTaken && wayOf(a.p, a.side[0]) > sideLeast*a.r:
		out.ext = a.side[0]
	case leftTaken && !rightTaken && wayOf(a.p, a.side[1]) > sideLeast*a.r:
		out.ext = a.side[1]
	}
	return out
}

// capStart returns how many wall points there are before the wall begins to
// turn away as fast as the end of a stroke does: by endTurn within r.
func capStart(pts []wallPoint, r float64) int {
	const endTurn = 55 * math.Pi / 180
	first, sum := 0, 0.0
	for i, w := range pts {
		sum += w.turn
		for pts[i].travel-pts[first].travel > r {
			sum -= pts[first].turn
			first++
		}
		if sum >= endTurn {
			return first
		}
	}
	return len(pts)
}

// forward keeps the points while they go on in about the arm's direction.
func (a *arm) forward(pts []geom.Point, limit float64) []geom.Point {
	var out []geom.Point
	last, d, way := a.p, a.d, 0.0
	for _, p := range pts {
		step := p.Sub(last)
		n := step.Norm()
		if n < 0.03*a.r {
			continue
		}
		along := step.Dot(d)
		if along <= 0 {
			if n < 0.25*a.r { // the first offsets may lie behind the last centre, others jitter where the wall is coarse
				continue
			}
			break
		}
		if len(out) == 0 && math.Abs(step.Cross(d)) > 0.1*a.r || len(out) > 0 && math.Abs(step.Cross(d)) > 0.8*n && n > 0.05*a.r {
			break
		}
		if way += n; way > limit {
			break
		}
		if n > 0.05*a.r {
			d = step.Unit()
		}
		out = append(out, p)
		last = p
	}
	return out
}

func wayOf(from geom.Point, pts []geom.Point) float64 {
	w := 0.0
	for _, p := range pts {
		w += p.Dist(from)
		from = p
	}
	return w
}

// tip is where an arm's known centres end, and how they would go on.
type tip struct {
	p geom.Point
	d geom.Vec
	k float64
}

// tipOf fits the last stretch of an arm with its extension.
func (a *arm) tipOf() tip {
	pts := make([]geom.Point, 0, len(a.ext)+len(a.back))
	for i := len(a.ext) - 1; i >= 0; i-- {
		pts = append(pts, a.ext[i])
	}
	pts = append(pts, a.back...)
	d, k := heading(pts, fitWindow*a.r)
	if d == (geom.Vec{}) {
		d, k = a.d, a.k
	}
	if math.Abs(k)*a.r > 0.9 {
		k = math.Copysign(0.9/a.r, k)
	}
	return tip{pts[0], d, k}
}

// mostSteps bounds the points that stand for a line going on.
const mostSteps = 200

// ahead returns points of the line or circle on which the tip goes on, every
// step mm for the given way.
func (t tip) ahead(step, way float64) []geom.Point {
	n := int(min(math.Ceil(way/step), mostSteps))
	out := make([]geom.Point, 0, n)
	for i := 1; i <= n; i++ {
		s := way * float64(i) / float64(n)
		out = append(out, t.at(s))
	}
	return out
}

func (t tip) at(s float64) geom.Point {
	turn := t.k * s
	if math.Abs(turn) < 1e-6 {
		return t.p.Add(t.d.Mul(s)).Add(t.d.Left().Mul(turn * s / 2))
	}
	sin, cos := math.Sincos(turn)
	return t.p.Add(t.d.Mul(sin / t.k)).Add(t.d.Left().Mul((1 - cos) / t.k))
}

func (t tip) dirAt(s float64) geom.Vec { return t.d.Turned(geom.Angle(t.k * s)) }
