package trace

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/medial"
)

// endOf carries an arm without a partner to where its stroke ends.
func (t *tracer) endOf(a *arm, r boundary, z *zone) {
	a.done = &join{corner: -1}
	var tl []medial.Sample
	if len(z.tips) > 0 {
		tl = z.tips[0].samples
		if len(tl) > 1 && tl[0].At.Dist(a.p) > tl[len(tl)-1].At.Dist(a.p) {
			tl = reversedSamples(tl)
		}
	}
	if c, rad, ok := t.ball(a, tl); ok {
		a.done.fill, a.done.end = c, EndBall
		a.r = rad
		return
	}
	a.done.fill = append(a.done.fill, a.ext...)
	tp := a.tipOf()
	hit, ok := t.castAlong(tp, 40*a.r)
	if !ok {
		a.done.end = EndFlat
		return
	}
	if c, ok := roundEnd(tp, hit, a.r, r.pts); ok {
		a.done.end = EndRound
		a.done.fill = append(a.done.fill, between(tp, c, 0.3*a.r)...)
		return
	}
	a.done.end = EndFlat
	if math.Abs(hit.cos) < math.Cos(20*math.Pi/180) {
		a.done.end = EndSlanted
	}
	a.done.fill = append(a.done.fill, between(tp, hit.s, 0.3*a.r)...)
}

func reversedSamples(s []medial.Sample) []medial.Sample {
	out := make([]medial.Sample, len(s))
	for i, x := range s {
		out[len(s)-1-i] = x.Reversed()
	}
	return out
}

// between returns the tip's points over the given way, every step, the last
// at the very end.
func between(tp tip, way, step float64) []geom.Point {
	if way < 1e-9 {
		return nil
	}
	return tp.ahead(step, way)
}

// ball recognises a terminal wider than its stroke whose wall is a circle
// about the widest disc.
func (t *tracer) ball(a *arm, tl []medial.Sample) ([]geom.Point, float64, bool) {
	best := -1
	for i, s := range tl {
		if s.Radius > 1.3*a.r && (best < 0 || s.Radius > tl[best].Radius) {
			best = i
		}
	}
	if best < 0 {
		return nil, 0, false
	}
	var out []geom.Point
	for _, s := range tl[:best+1] {
		out = append(out, s.At)
	}
	return out, tl[best].Radius, true
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

// roundEnd looks for the middle of a round terminal: the place on the way to
// the wall from which all of the wall ahead is one half-width away.
func roundEnd(tp tip, hit wallHit, r float64, walls []wallPoint) (float64, bool) {
	s := hit.s - r
	if s < -0.6*r {
		return 0, false
	}
	c, d := tp.at(max(s, 0)), tp.dirAt(max(s, 0))
	n := 0
	for _, w := range walls {
		v := w.at.Sub(c)
		if v.Dot(d) < 0.15*r {
			continue
		}
		if math.Abs(v.Norm()-r) > 0.13*r {
			return 0, false
		}
		n++
	}
	return max(s, 0), n >= 3
}
