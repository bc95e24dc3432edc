package trace

import (
	"math"

	"tubewright/geom"
)

const (
	alone      = 32 * math.Pi / 180 // what it costs to leave an arm without a partner
	straight   = 45 * math.Pi / 180 // greatest bend of a pair that goes straight through
	sharedBend = 15 * math.Pi / 180 // the most it costs to follow a whole wall round a smooth bend
	tangentTo  = 25 * math.Pi / 180 // an arm that meets a stroke this flatly runs into it
)

// joinMany pairs the arms of a junction that go through it and lets the
// others end on those.
func (t *tracer) joinMany(z *zone, runs []boundary) {
	n := len(z.arms)
	cost := make([][]float64, n)
	for i := range cost {
		cost[i] = make([]float64, n)
	}
	for i := range z.arms {
		for j := range i {
			c := bend(&z.arms[i], &z.arms[j])
			if r, back := sharedRun(&z.arms[i], &z.arms[j], runs); r != nil {
				c *= 0.4
				if _, corner := alongWall(&z.arms[i], &z.arms[j], r, back); corner < 0 {
					c = min(c, sharedBend)
				}
			}
			cost[i][j], cost[j][i] = c, c
		}
	}
	var hosts []*join
	var origin []*arm
	for _, p := range bestPairs(cost) {
		a, b := &z.arms[p[0]], &z.arms[p[1]]
		fill, corner := t.through(a, b, runs)
		hosts = append(hosts, connect(a, b, fill, corner))
		origin = append(origin, a)
	}
	if len(hosts) == 0 {
		t.meet(z)
		return
	}
	for i := range z.arms {
		if z.arms[i].done == nil {
			t.attach(&z.arms[i], hosts, origin, z)
		}
	}
}

// bend is how far two arms are from going on into each other: the larger of
// the turns at either end from the arm, bent on as it is, to the way across.
func bend(a, b *arm) float64 {
	way := b.p.Sub(a.p)
	gap := way.Norm()
	if gap == 0 {
		return float64(a.d.TurnTo(b.d.Neg()).Abs())
	}
	limit := 0.4 / max(gap, 1e-9)
	ka, kb := clamp(a.k, -limit, limit), clamp(-b.k, -limit, limit)
	t1 := float64(a.d.TurnTo(way)) - ka*gap/2
	t2 := float64(way.TurnTo(b.d.Neg())) - kb*gap/2
	return max(math.Abs(t1), math.Abs(t2))
}

func clamp(v, lo, hi float64) float64 { return min(max(v, lo), hi) }

// bestPairs returns the matching of least total cost, an unmatched arm
// costing alone. Exhaustive up to eight arms, then greedy.
func bestPairs(cost [][]float64) [][2]int {
	n := len(cost)
	if n > 8 {
		return greedyPairs(cost)
	}
	best := math.Inf(1)
	var out [][2]int
	var try func(used int, sum float64, pairs [][2]int)
	try = func(used int, sum float64, pairs [][2]int) {
		if sum >= best {
			return
		}
		i := 0
		for i < n && used&(1<<i) != 0 {
			i++
		}
		if i == n {
			best = sum
			out = append([][2]int(nil), pairs...)
			return
		}
		for j := i + 1; j < n; j++ {
			if used&(1<<j) == 0 && cost[i][j] <= straight {
				try(used|1<<i|1<<j, sum+cost[i][j], append(pairs, [2]int{i, j}))
			}
		}
		try(used|1<<i, sum+alone, pairs)
	}
	try(0, 0, nil)
	return out
}

func greedyPairs(cost [][]float64) [][2]int {
	used := make([]bool, len(cost))
	var out [][2]int
	for {
		best, bi, bj := straight, -1, -1
		for i := range cost {
			for j := range i {
				if !used[i] && !used[j] && cost[i][j] < best {
					best, bi, bj = cost[i][j], i, j
				}
			}
		}
		if bi < 0 {
			return out
		}
		used[bi], used[bj] = true, true
		out = append(out, [2]int{bj, bi})
	}
}

// attach ends arm a on the nearest of the joins that go through.
func (t *tracer) attach(a *arm, hosts []*join, origin []*arm, z *zone) {
	tp := a.tipOf()
	reach := 2*z.size + 4*a.r
	mine := append(append([]geom.Point{a.p}, a.ext...), tp.ahead(0.1*a.r, reach)...)
	best, bestWay := -1, math.Inf(1)
	var fill []geom.Point
	for h := range hosts {
		line := hostLine(hosts[h], origin[h])
		x, i, _, ok := firstCrossing(mine, line)
		if !ok {
			continue
		}
		f := append(append([]geom.Point(nil), mine[1:i+1]...), x)
		if w := wayOf(a.p, f); w < bestWay {
			best, bestWay, fill = h, w, f
		}
	}
	if best < 0 {
		best, fill = nearestMeeting(a, tp, hosts, origin)
	}
	a.done = &join{fill: fill, end: EndJunction, corner: -1, onto: hosts[best]}
}

// hostLine is the polyline a joining arm can meet: the way through, with a
// good part of both arms.
func hostLine(h *join, a *arm) []geom.Point {
	var out []geom.Point
	for i := len(a.back) - 1; i >= 0; i-- {
		out = append(out, a.back[i])
	}
	out = append(out, h.fill...)
	return append(out, h.to.back...)
}

// nearestMeeting ends an arm that would miss every host: it leaves its last
// known centre and runs tangentially into the nearest.
func nearestMeeting(a *arm, tp tip, hosts []*join, origin []*arm) (int, []geom.Point) {
	best, host := math.Inf(1), 0
	var at geom.Point
	for h := range hosts {
		for _, q := range densify(hostLine(hosts[h], origin[h]), 0.1*a.r) {
			way := q.Sub(tp.p)
			off := math.Abs(float64(tp.d.TurnTo(way)))
			if d := way.Norm() * (1 + off); d < best {
				best, host, at = d, h, q
			}
		}
	}
	return host, append(append([]geom.Point(nil), a.ext...), at)
}

func densify(pts []geom.Point, step float64) []geom.Point {
	var out []geom.Point
	for i, p := range pts {
		if i > 0 {
			n := int(pts[i-1].Dist(p) / step)
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
func (t *tracer) meet(z *zone) {
	var a11, a12, a22, b1, b2 float64
	for i := range z.arms {
		tp := z.arms[i].tipOf()
		n := tp.d.Left()
		c := n.X*tp.p.X + n.Y*tp.p.Y
		a11 += n.X * n.X
		a12 += n.X * n.Y
		a22 += n.Y * n.Y
		b1 += n.X * c
		b2 += n.Y * c
	}
	det := float64(a11*a22) - float64(a12*a12)
	at := z.arms[0].p
	if math.Abs(det) > 1e-9 {
		at = geom.Point{X: (float64(b1*a22) - float64(b2*a12)) / det, Y: (float64(a11*b2) - float64(a12*b1)) / det}
	}
	for i := range z.arms {
		a := &z.arms[i]
		fill := append([]geom.Point(nil), a.ext...)
		for len(fill) > 0 && fill[len(fill)-1].Sub(at).Dot(a.d) > 0 {
			fill = fill[:len(fill)-1]
		}
		a.done = &join{fill: append(fill, at), end: EndJunction, corner: -1, point: &at}
	}
}
