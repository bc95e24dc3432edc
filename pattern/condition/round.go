package condition

import (
	"math"
	"slices"

	"tubewright/geom"
)

// rounded returns the stroke with an arc in every corner that has room for one;
// corners without stay, for opened to deal with.
func (w *worker) rounded() geom.Path {
	c := chained(w.drawn)
	for {
		w.bend(&c)
		next, at, ok := c.collapsed(w.lim.MinRadius)
		if !ok {
			break
		}
		w.note(at.at, CornerNoRoom, at.need, at.room)
		c = next
	}
	w.report(c)
	return c.path()
}

// bend chooses the bends of all corners, and carries apexes.
func (w *worker) bend(c *chain) {
	for i := range c.corners {
		c.corners[i].apex = c.apexAt(i)
	}
	w.wantAll(c)
	drawn := c.runs
	for range 4 * (len(c.corners) + 1) {
		c.runs = slices.Clone(drawn)
		if c.carry() {
			w.wantAll(c)
			continue
		}
		if c.settle(w.lim.MinRadius) {
			continue // tighter bends are carried less far: go round again
		}
		// An apex that does not fit at the least radius is not carried: a bend
		// comes before a bend at the right height.
		if !c.dropApexes() {
			break
		}
		w.wantAll(c)
	}
}

// wantAll starts the choice of bends afresh.
func (w *worker) wantAll(c *chain) {
	for i := range c.corners {
		if _, _, ok := c.legs(i); ok {
			c.corners[i].failed = false
			w.want(&c.corners[i])
		}
	}
}

// want sets the bend a corner should have: the comfortable radius; more in a
// shallow kink, where that costs the drawing next to nothing; less where the
// corner is sharp and would be cut off; and a bulb where even that cuts off
// too much.
func (w *worker) want(x *corner) {
	half := min(max(float64(x.turn.Abs())/2, 1e-4), math.Pi/2-1e-3)
	cut := 1/math.Cos(half) - 1 // of the corner, by a bend of radius 1
	d := w.lim.Diameter
	x.radius = max(w.lim.CornerRadius, min(gentle*d/cut, 20*d))
	x.bulb = false
	if x.apex == (geom.Vec{}) {
		x.radius = max(w.lim.MinRadius, min(x.radius, cutWanted*d/cut))
		x.bulb = w.lim.MinRadius*cut > cutMost*d
	}
}

// settle finds the largest radii that leave every run long enough for the
// bends at its two ends: where they overlap both give way, down to the least.
// It reports whether an apex gave way.
func (c *chain) settle(least float64) bool {
	before := slices.Clone(c.corners)
	for i := range c.corners {
		c.refillet(i)
	}
	for round := range 60 {
		changed := c.giveRoom(least, round)
		for i := range c.corners {
			if x := &c.corners[i]; x.radius > least && !x.fillet.ok {
				c.largest(i, least)
				changed = true
			}
		}
		if !changed {
			break
		}
	}
	c.giveWay(least)
	for i, x := range c.corners {
		if x.apex != (geom.Vec{}) && x.radius < before[i].radius {
			return true
		}
	}
	return false
}

// giveRoom lowers the radii at the ends of runs too short for their bends, all
// together so that no corner is served before another. It reports whether any
// changed.
func (c *chain) giveRoom(least float64, round int) bool {
	n := len(c.corners)
	shares := make([]float64, n)
	for i := range shares {
		shares[i] = 1
	}
	for k, run := range c.runs {
		i, j := k, (k+1)%n
		over := c.ahead(i) + c.back(j) - run.Length()
		if over <= 1e-9 {
			continue
		}
		share := run.Length() / (run.Length() + over)
		if round > 10 { // exact for straight legs at once; curved ones need a push
			share *= 0.999
		}
		shares[i], shares[j] = min(shares[i], share), min(shares[j], share)
	}
	changed := false
	for i, share := range shares {
		if x := &c.corners[i]; share < 1 && x.radius > least {
			x.radius = max(least, x.radius*share)
			c.refillet(i)
			changed = true
		}
	}
	return changed
}

// largest gives corner i the largest radius, from least to what it has, that
// its legs have room for; the least if none.
func (c *chain) largest(i int, least float64) {
	x := &c.corners[i]
	lo, hi := least, x.radius
	for range 20 {
		x.radius = (lo + hi) / 2
		if c.refillet(i); x.fillet.ok {
			lo = x.radius
		} else {
			hi = x.radius
		}
	}
	x.radius = lo
	c.refillet(i)
}

// giveWay makes bulbs of the corners that still have no room, and fails those
// that have none for that either.
func (c *chain) giveWay(least float64) {
	n := len(c.corners)
	for pass := range 2 {
		for i := range c.corners {
			if !c.corners[i].fillet.ok {
				c.noRoom(i, least, pass)
			}
		}
		for k, run := range c.runs {
			i, j := k, (k+1)%n
			if c.ahead(i)+c.back(j) > run.Length()+1e-9 {
				// Two bends want one short run: neither has room.
				c.noRoom(i, least, pass)
				c.noRoom(j, least, pass)
			}
		}
	}
}

func (c *chain) noRoom(i int, least float64, pass int) {
	x := &c.corners[i]
	a, b, ok := c.legs(i)
	if !ok {
		return
	}
	if pass == 0 && float64(x.turn.Abs()) > bulbTurn && x.apex == (geom.Vec{}) {
		x.bulb, x.radius = true, least
		x.fillet = bulbOf(a, b, x.turn, least, c.free(i))
		return
	}
	c.fail(i)
}

func (c *chain) fail(i int) {
	if _, _, ok := c.legs(i); ok {
		c.corners[i].failed = true
		c.corners[i].fillet = fillet{}
	}
}

func (c *chain) refillet(i int) {
	if a, b, ok := c.legs(i); ok {
		x := &c.corners[i]
		x.turn = a.EndDir().TurnTo(b.StartDir())
		if x.bulb {
			x.fillet = bulbOf(a, b, x.turn, x.radius, c.free(i))
		}
		if !x.bulb || !x.fillet.ok {
			x.bulb = false
			x.fillet = filletOf(a, b, x.turn, x.radius)
		}
	}
}

func (c *chain) ahead(i int) float64 { return c.corners[i].fillet.ahead }
func (c *chain) back(i int) float64  { return c.corners[i].fillet.back }

// path puts runs and bends together.
func (c *chain) path() geom.Path {
	out := geom.Path{Closed: c.closed}
	n := len(c.corners)
	for k, run := range c.runs {
		f := c.corners[k].fillet
		if f.ok {
			out.Segments = append(out.Segments, f.segs...)
		}
		to := run.Length() - c.back((k+1)%n)
		if to-f.ahead > 1e-9 {
			out.Segments = append(out.Segments, run.Cut(f.ahead, to).Segments...)
		}
	}
	return out
}

// report notes the corners that did not get what they wanted.
func (w *worker) report(c chain) {
	for i, x := range c.corners {
		if _, _, ok := c.legs(i); !ok {
			continue
		}
		switch {
		case x.failed:
			need, room := c.shortage(i, w.lim.MinRadius)
			w.failed = append(w.failed, failure{x.at, x.turn, need, room})
		case x.bulb:
			w.note(x.at, CornerBulb, 0, x.bulge())
		case x.radius < w.lim.CornerRadius*(1-1e-6):
			w.note(x.at, CornerTight, w.lim.CornerRadius, x.radius)
		}
	}
	for i, x := range c.corners {
		out := c.pointed(i)
		if x.failed || x.bulb || x.apex != (geom.Vec{}) || out == (geom.Vec{}) {
			continue
		}
		tip := x.fillet.segs[0].(geom.Arc).Centre.Add(out.Mul(x.radius))
		if short := x.at.Sub(tip).Dot(out); short > w.lim.Diameter/4 {
			w.note(x.at, ApexShort, 0, short)
		}
	}
}

// failure is a corner left without a bend for opened to deal with.
type failure struct {
	at         geom.Point
	turn       geom.Angle
	need, room float64 // mm, of the leg that is short
}

// judge notes how the failed corners fared in the end: most come out as if bent
// to the least radius.
func (w *worker) judge(out geom.Path) {
	for _, f := range w.failed {
		half := min(math.Abs(float64(f.turn))/2, 1.5)
		cut := w.lim.MinRadius * (1/math.Cos(half) - 1)
		if _, d := out.Nearest(f.at); d <= 1.3*cut+openEnough*w.lim.Diameter {
			w.note(f.at, CornerTight, w.lim.CornerRadius, w.lim.MinRadius)
			continue
		}
		w.note(f.at, CornerNoRoom, f.need, f.room)
	}
}

// shortage returns, for the scarcer of the two runs at corner i, what the bends
// of the given radius at its two ends need of it and how long it is.
func (c *chain) shortage(i int, r float64) (need, room float64) {
	m := len(c.runs)
	for _, k := range [2]int{(i + m - 1) % m, i % m} {
		nk, rk := c.needOf(k, r), c.runs[k].Length()
		if room == 0 || nk-rk > need-room {
			need, room = nk, rk
		}
	}
	return need, room
}

// needOf returns what bends of radius r at the ends of run k take of it.
func (c *chain) needOf(k int, r float64) float64 {
	var need float64
	for _, i := range [2]int{k, (k + 1) % len(c.corners)} {
		if _, _, ok := c.legs(i); ok {
			need += r * math.Tan(min(math.Abs(float64(c.corners[i].turn))/2, 1.5))
		}
	}
	return need
}

// bulge returns how far a bulb swells beyond straight legs: its radius less the
// distance of its centre from a leg.
func (x corner) bulge() float64 {
	return x.radius * (1 - math.Cos(float64(x.turn.Abs())/2))
}
