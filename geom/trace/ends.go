package trace

import (
	"math"

	"tubewright/geom"
)

// endOf carries an arm without a partner to where its stroke ends.
func (t *tracer) endOf(a *arm, r boundary) {
	a.done = &join{corner: -1}
	ahead := tip{a.p, a.d, a.k}
	if hit, ok := t.castAlong(ahead, 12*a.r); ok {
		if c, radius, ok := ball(ahead, hit, a.r, r.pts); ok {
			a.done.fill, a.done.end = between(tip{a.p, c.Sub(a.p).Unit(), 0}, c.Dist(a.p), 0.3*a.r), EndBall
			a.done.swell = radius
			return
		}
	}
	if c, r, i, ok := t.leavesInk(a); ok { // one wall alone led right to the end
		a.ext = a.ext[:i]
		a.done.fill = append(append(a.done.fill, a.ext...), c)
		a.done.end = endAcross(r)
		return
	}
	a.done.fill = append(a.done.fill, a.ext...)
	tp := a.tipOf()
	hit, ok := t.castAlong(tp, 12*a.r)
	if !ok {
		a.done.end = EndFlat
		return
	}
	if c, ok := roundEnd(tp, hit, a.r, r.pts); ok {
		a.done.end = EndRound
		a.done.fill = append(a.done.fill, between(tp, c, 0.3*a.r)...)
		return
	}
	a.done.end = endAcross(hit.cos)
	a.done.fill = append(a.done.fill, between(tp, hit.s, 0.3*a.r)...)
}

// endAcross tells a square end from a slanted one by the cosine of the angle
// between the stroke and the normal of the wall it ends on.
func endAcross(cos float64) EndKind {
	if math.Abs(cos) < math.Cos(20*math.Pi/180) {
		return EndSlanted
	}
	return EndFlat
}

// leavesInk returns where an arm's one-sided centres first cross or touch the
// outline ahead, before which of them, and the cosine of the angle there.
func (t *tracer) leavesInk(a *arm) (at geom.Point, cos float64, i int, ok bool) {
	last, d := a.p, a.d
	for i, p := range a.ext {
		step := p.Sub(last)
		if step.Norm() > 0.01*a.r {
			d = step.Unit()
		}
		if h, hit := t.firstWall(last, p.Add(d.Mul(0.05*a.r))); hit {
			return h.at, -d.Dot(t.wallNormal(h.at)), i, true
		}
		last = p
	}
	return geom.Point{}, 0, 0, false
}

// between returns the tip's points over the given way, every step, the last
// at the very end.
func between(tp tip, way, step float64) []geom.Point {
	if way < 1e-9 {
		return nil
	}
	return tp.ahead(step, way)
}

// ball recognises a terminal wider than its stroke: the wall ahead is a circle
// for more than a half turn. It returns its middle and radius.
func ball(tp tip, hit wallHit, r float64, walls []wallPoint) (geom.Point, float64, bool) {
	from, to := capNear(walls, hit.at)
	if to-from < 2 {
		return geom.Point{}, 0, false
	}
	c, radius, ok := circleThrough(walls[from : to+1])
	if !ok || radius < 1.3*r || c.Sub(tp.p).Dot(tp.d) <= 0 || math.Abs(c.Sub(tp.p).Cross(tp.d)) > radius {
		return geom.Point{}, 0, false
	}
	turn := 0.0
	for _, w := range walls {
		if w.corner && !w.dent && math.Abs(w.at.Dist(c)-radius) < 0.1*radius {
			turn += w.turn
		}
	}
	return c, radius, turn >= 200*math.Pi/180
}

// wallHit is where an arm going on meets the outline.
type wallHit struct {
	s   float64 // way to it
	cos float64 // of the angle between the arm and the wall's normal
	at  geom.Point
}

// castAlong takes the tip on until it leaves the ink.
func (t *tracer) castAlong(tp tip, reach float64) (wallHit, bool) {
	step := reach / 160
	last := tp.p
	for s := step; s <= reach; s += step {
		p := tp.at(s)
		if h, ok := t.firstWall(last, p); ok {
			h.s += s - step
			h.cos = -tp.dirAt(h.s).Dot(t.wallNormal(h.at))
			return h, true
		}
		last = p
	}
	return wallHit{}, false
}

func (t *tracer) firstWall(a, b geom.Point) (wallHit, bool) {
	u := b.Sub(a)
	box := geom.EmptyRect().Including(a).Including(b)
	best := wallHit{s: math.Inf(1)}
	for _, c := range t.loops {
		n := len(c.pts)
		for i, p := range c.pts {
			q := c.pts[(i+1)%n]
			if max(p.X, q.X) < box.Min.X || min(p.X, q.X) > box.Max.X || max(p.Y, q.Y) < box.Min.Y || min(p.Y, q.Y) > box.Max.Y {
				continue
			}
			v := q.Sub(p)
			den := u.Cross(v)
			if den == 0 {
				continue
			}
			w := p.Sub(a)
			s, k := w.Cross(v)/den, w.Cross(u)/den
			if s >= 0 && s <= 1 && k >= 0 && k <= 1 && s*u.Norm() < best.s {
				best = wallHit{s: s * u.Norm(), at: a.Add(u.Mul(s))}
			}
		}
	}
	return best, !math.IsInf(best.s, 1)
}

// wallNormal returns the normal into the ink of the edge nearest to p.
func (t *tracer) wallNormal(p geom.Point) geom.Vec {
	best := math.Inf(1)
	var out geom.Vec
	for _, c := range t.loops {
		for i, a := range c.pts {
			l := geom.Line{A: a, B: c.pts[(i+1)%len(c.pts)]}
			if d := l.PointAt(l.Nearest(p)).Dist(p); d < best {
				best, out = d, c.dir[i].Left()
			}
		}
	}
	return out
}

// roundEnd looks for the middle of a round terminal: the wall around the end,
// where it turns by half a turn, is a circle of about the stroke's own width.
// It returns how far along the tip's way the middle lies.
func roundEnd(tp tip, hit wallHit, r float64, walls []wallPoint) (float64, bool) {
	from, to := capNear(walls, hit.at)
	if to-from < 2 {
		return 0, false
	}
	for _, w := range walls[from : to+1] {
		if w.turn > roundStep {
			return 0, false
		}
	}
	c, fitted, ok := circleThrough(walls[from : to+1])
	if !ok || fitted < 0.6*r || fitted > 1.3*r {
		return 0, false
	}
	best, at := math.Inf(1), 0.0
	for k := range 65 {
		s := hit.s * float64(k) / 64
		if d := tp.at(s).Dist(c); d < best {
			best, at = d, s
		}
	}
	if best > 0.35*r {
		return 0, false
	}
	if hit.s > 0 { // sharpen: the foot of the middle on the tip's way
		at = clamp(at+c.Sub(tp.at(at)).Dot(tp.dirAt(at)), 0, hit.s)
	}
	return at, true
}

// capNear returns the stretch of wall around the place nearest to p that turns
// by up to a quarter turn to either side.
func capNear(walls []wallPoint, p geom.Point) (from, to int) {
	const quarter = 80 * math.Pi / 180
	for i, w := range walls {
		if w.at.Dist(p) < walls[from].at.Dist(p) {
			from = i
		}
	}
	to = from
	for turn := walls[from].turn / 2; from > 0; from-- {
		if turn += walls[from-1].turn; turn > quarter || walls[from-1].dent {
			break
		}
	}
	for turn := walls[to].turn / 2; to < len(walls)-1; to++ {
		if turn += walls[to+1].turn; turn > quarter || walls[to+1].dent {
			break
		}
	}
	for from < to && !walls[from].corner { // straight sides are no part of the round
		from++
	}
	for to > from && !walls[to].corner {
		to--
	}
	return from, to
}

// roundStep is the most that one point of a flattened round may turn.
const roundStep = 40 * math.Pi / 180
