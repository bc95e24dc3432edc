package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

const (
	alone      = 32 * math.Pi / 180 // what it costs to leave an arm without a partner
	straight   = 45 * math.Pi / 180 // greatest bend of a pair that goes straight through
	sharedBend = 15 * math.Pi / 180 // the most it costs to follow a whole wall round a smooth bend
	plansTried = 12                 // pairings of one junction that are drawn and compared
	bendWeight = 0.08               // mean misfit of the walls, in half-widths, that one radian of bend is worth
	evenBend   = 0.04               // the same for an even pen, whose walls are to be followed closely
	brokenStem = 0.06               // misfit that it is worth to keep a stem whole
	touching   = 0.015              // half-widths between an arm and a stroke it has run into
)

// plan is one way to draw a junction.
type plan struct {
	pairs [][2]int
	order []int // of the arms that end on others
	bend  float64
	joins []*join
	lines [][]geom.Point // of every arm, from well back to where it ends or to its partner
	free  bool           // all arms meet in one point
}

// joinMany draws a junction in the likeliest ways and keeps the one whose
// pen best follows the walls.
func (t *tracer) joinMany(z *zone, runs []boundary) {
	var best *plan
	bestScore := math.Inf(1)
	plans := t.plans(z, runs)
	weight := bendWeight
	if t.evenPen() {
		weight = evenBend
	}
	for i := range plans {
		p := &plans[i]
		t.draw(p, z, runs)
		score := 0.0
		if len(plans) > 1 {
			score = misfit(p.lines, z, runs) + weight*p.bend + float64(p.pieces(z)-1) + brokenStem*float64(z.stemsBroken(p, runs))
		}
		if best == nil || score < bestScore {
			best, bestScore = p, score
		}
	}
	if c, ok := t.cusp(z, runs); ok && misfit(c.lines, z, runs) <= misfit(best.lines, z, runs)+cuspLoss {
		best = &c
	}
	for i, j := range best.joins {
		z.arms[i].done = j
	}
	for i := range z.arms {
		t.links[z.arms[i].link].gone = z.arms[i].stub && z.arms[i].done == nil
	}
}

// cuspLoss is the misfit, in half-widths, that it may cost to draw a very
// short stub as the tip of a corner: a pen that turns back on itself.
const cuspLoss = 0.02

// cusp draws two arms that meet in a corner at the tip of a stub.
func (t *tracer) cusp(z *zone, runs []boundary) (plan, bool) {
	if len(z.arms) != 3 {
		return plan{}, false
	}
	var two []int
	s := -1
	for i := range z.arms {
		if z.arms[i].stub {
			s = i
		} else {
			two = append(two, i)
		}
	}
	if len(two) != 2 {
		return plan{}, false
	}
	a, b := &z.arms[two[0]], &z.arms[two[1]]
	tip := t.links[z.arms[s].link].s[0].At
	into := z.arms[s].d
	if a.d.Dot(into) > -0.5 || b.d.Dot(into) > -0.5 { // both come in from over there
		return plan{}, false
	}
	var fill []geom.Point
	for _, p := range a.ext {
		if p.Sub(tip).Dot(into) > 0.1*a.r {
			fill = append(fill, p)
		}
	}
	corner := len(fill)
	fill = append(fill, tip)
	for i := len(b.ext) - 1; i >= 0; i-- {
		if b.ext[i].Sub(tip).Dot(into) > 0.1*b.r {
			fill = append(fill, b.ext[i])
		}
	}
	j := connect(a, b, fill, corner)
	p := plan{joins: make([]*join, 3), lines: [][]geom.Point{lineOf(a, j)}}
	p.joins[two[0]], p.joins[two[1]] = j, j.twin
	return p, true
}

// host is a line in a junction that other arms can end on.
type host struct {
	line []geom.Point
	join *join
}

// draw works out the joins of a plan.
func (t *tracer) draw(p *plan, z *zone, runs []boundary) {
	p.joins = make([]*join, len(z.arms))
	if len(p.pairs) == 0 {
		p.free = true
		t.meet(p, z)
		return
	}
	var hosts []host
	for _, q := range p.pairs {
		a, b := &z.arms[q[0]], &z.arms[q[1]]
		fill, corner := t.through(a, b, runs)
		j := connect(a, b, fill, corner)
		p.joins[q[0]], p.joins[q[1]] = j, j.twin
		hosts = append(hosts, host{lineOf(a, j), j})
	}
	for _, i := range p.order {
		a := &z.arms[i]
		p.joins[i] = t.attach(a, hosts, z)
		hosts = append(hosts, host{lineOf(a, p.joins[i]), p.joins[i]})
	}
	for _, h := range hosts {
		p.lines = append(p.lines, h.line)
	}
}

// lineOf is an arm, a good way back, with its join and, if it goes through,
// its partner.
func lineOf(a *arm, j *join) []geom.Point {
	out := make([]geom.Point, 0, len(a.back)+len(j.fill)+8)
	for i := len(a.back) - 1; i >= 0; i-- {
		out = append(out, a.back[i])
	}
	out = append(out, j.fill...)
	if j.to != nil {
		out = append(out, j.to.back...)
	}
	return out
}

// attach ends arm a on the host it meets first.
func (t *tracer) attach(a *arm, hosts []host, z *zone) *join {
	tp := a.tipOf()
	reach := 2*z.size + 4*a.r
	mine := append(append([]geom.Point{a.p}, a.ext...), tp.ahead(0.1*a.r, reach)...)
	best, bestWay := -1, math.Inf(1)
	var fill []geom.Point
	for h := range hosts {
		f, ok := meeting(mine, hosts[h].line, touching*a.r)
		if !ok {
			continue
		}
		if w := wayOf(a.p, f); w < bestWay {
			best, bestWay, fill = h, w, f
		}
	}
	if best < 0 {
		var ok bool
		best, fill, ok = glide(a, hosts, z.runs)
		if !ok {
			best, fill = nearestMeeting(a, tp, hosts)
		}
	}
	return &join{fill: fill, end: EndJunction, corner: -1, onto: hosts[best].join}
}

// meeting returns the way along mine to where it first crosses line, or runs
// into it and along it closer than near.
func meeting(mine, line []geom.Point, near float64) ([]geom.Point, bool) {
	x, i, _, crosses := firstCrossing(mine, line)
	last := len(mine) - 1
	if crosses {
		last = i
	}
	for k := 1; k <= last; k++ {
		if q, d := nearestOn(line, mine[k]); d <= near {
			return append(slices.Clone(mine[1:k]), q), true
		}
	}
	if !crosses {
		return nil, false
	}
	return append(slices.Clone(mine[1:i+1]), x), true
}

func nearestOn(line []geom.Point, p geom.Point) (geom.Point, float64) {
	best := math.Inf(1)
	far := best // its square and a little more: what lies farther need not be measured
	var at geom.Point
	for i := 1; i < len(line); i++ {
		u, v := line[i].Sub(line[i-1]), p.Sub(line[i-1])
		n, along := u.Dot(u), v.Dot(u)
		if off := v.Cross(u); float64(off*off) > float64(far*n) {
			continue // so far from the straight already
		}
		s := 0.0
		if n > 0 {
			s = clamp(along/n, 0, 1)
		}
		q := line[i-1].Add(u.Mul(s))
		if w := q.Sub(p); w.Dot(w) > far {
			continue
		}
		if d := q.Dist(p); d < best {
			best, far, at = d, d*d*(1+1e-12), q
		}
	}
	return at, best
}

// nearestMeeting ends an arm that would miss every host: it leaves its last
// known centre for the nearest place not far off its direction.
func nearestMeeting(a *arm, tp tip, hosts []host) (int, []geom.Point) {
	best, at := math.Inf(1), 0
	var to geom.Point
	for h := range hosts {
		for _, q := range densify(hosts[h].line, 0.1*a.r) {
			way := q.Sub(tp.p)
			off := math.Abs(float64(tp.d.TurnTo(way)))
			if d := way.Norm() * (1 + off); d < best {
				best, at, to = d, h, q
			}
		}
	}
	return at, append(slices.Clone(a.ext), to)
}

func densify(pts []geom.Point, step float64) []geom.Point {
	var out []geom.Point
	for i, p := range pts {
		if i > 0 {
			n := int(min(pts[i-1].Dist(p)/step, 1000))
			for k := 1; k <= n; k++ {
				out = append(out, pts[i-1].Lerp(p, float64(k)/float64(n+1)))
			}
		}
		out = append(out, p)
	}
	return out
}

// meet ends all arms of a zone in one point: where their lines pass nearest,
// in the sense of least squares.
func (t *tracer) meet(p *plan, z *zone) {
	var a11, a12, a22, b1, b2 float64
	for i := range z.arms {
		tp := z.arms[i].tipOf()
		n := tp.d.Left()
		c := float64(n.X*tp.p.X) + float64(n.Y*tp.p.Y)
		a11 += float64(n.X * n.X)
		a12 += float64(n.X * n.Y)
		a22 += float64(n.Y * n.Y)
		b1 += float64(n.X * c)
		b2 += float64(n.Y * c)
	}
	det := float64(a11*a22) - float64(a12*a12)
	at := z.arms[0].p
	if math.Abs(det) > 1e-9 {
		at = geom.Point{X: (float64(b1*a22) - float64(b2*a12)) / det, Y: (float64(a11*b2) - float64(a12*b1)) / det}
	}
	for i := range z.arms {
		a := &z.arms[i]
		fill := slices.Clone(a.ext)
		for len(fill) > 0 && fill[len(fill)-1].Sub(at).Dot(a.d) > 0 {
			fill = fill[:len(fill)-1]
		}
		p.joins[i] = &join{fill: append(fill, at), end: EndJunction, corner: -1, point: &at}
		p.lines = append(p.lines, lineOf(a, p.joins[i]))
	}
}
