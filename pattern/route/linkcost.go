package route

import (
	"math"
	"slices"

	"tubewright/geom"
)

// choice is one way to link two ends, as far as it is planned.
type choice struct {
	cost, length float64
	fixed        bool         // this way and no other; else a jump or a way behind the strokes, whichever is found clear
	via          []geom.Point // corners of a fixed way; none for a jump
	met          uint64       // demanded strokes that the way doubles
}

// number is what tells the i-th choice of its list from others; 0 for the one
// that is left open.
func (w choice) number(i int) int {
	if !w.fixed {
		return 0
	}
	return i + 1
}

// choices returns the ways to link two steps that the chain may choose among:
// one, the cheapest, unless something is asked about doubling.
func (p *planner) choices(runs []run, a, b step) []choice {
	from, to := endKey(a, true), endKey(b, false)
	key := [2]int{from, to}
	if w, ok := p.chosen[key]; ok {
		return w
	}
	letter := p.lanes[runs[a.run].lane].Letter
	var out []choice
	if w := p.wishOf(letter); len(w.Double)+len(w.NoDouble) > 0 && letter == p.lanes[runs[b.run].lane].Letter {
		out = p.doublings(runs, a, b, w)
	} else {
		out = []choice{{cost: p.linkCost(runs, a, b), length: p.linkLength(runs, a, b)}}
	}
	p.chosen[key] = out
	p.chosen[[2]int{to, from}] = backwards(out)
	return out
}

func backwards(list []choice) []choice {
	out := slices.Clone(list)
	for i := range out {
		out[i].via = reversedPoints(out[i].via)
	}
	return out
}

// linkCost is what a link costs before its way is known: the cheaper of a
// jump in the open and a way doubled back behind the strokes of its letter.
func (p *planner) linkCost(runs []run, a, b step) float64 {
	cost := p.jumpCost(runs, a, b)
	if c, ok := p.bypassCost(runs, a, b); ok {
		cost = min(cost, c)
	}
	return cost
}

// jumpCost counts the glass behind the face, painted out all round, its turns,
// and how crowded they are.
func (p *planner) jumpCost(runs []run, a, b step) float64 {
	d := linkSpan(runs, a, b)
	crowded := max(0, 2*p.rules.DoubleBackRadius-d)
	length := p.linkLength(runs, a, b)
	return p.costs.Hidden*length + p.costs.Paint*p.paintOf(runs, a, b, length) + 2*p.costs.DoubleBack + p.costs.Crowded*crowded
}

// paintOf is how much of a jump must be painted all round: all of it, but where
// paint weighs much, what lies behind lit glass is left out.
func (p *planner) paintOf(runs []run, a, b step, length float64) float64 {
	if p.options.Taste != TasteLeastPaint {
		return length
	}
	if p.lit == nil {
		p.lit = litPlan(p.litRuns(), p.rules.Diameter)
	}
	g := geom.Line{A: runs[a.run].place[1-a.from], B: runs[b.run].place[b.from]}
	n := max(1, int(g.Length()/4))
	seen := 0
	for k := range n {
		if !p.lit.near(g.PointAt(g.Length()*(float64(k)+0.5)/float64(n)), 0.5*p.rules.Diameter) {
			seen++
		}
	}
	return length * float64(seen) / float64(n)
}

// bypassCost counts the same for the way behind the strokes, which needs no
// paint but takes more glass and bends. Ways shorter than two turns are jumps.
func (p *planner) bypassCost(runs []run, a, b step) (float64, bool) {
	if p.lanes[runs[a.run].lane].Letter != p.lanes[runs[b.run].lane].Letter {
		return 0, false
	}
	w := p.bypassOf(runs, a, b)
	if !w.ok || w.length < 3*p.rules.DoubleBackRadius {
		return 0, false
	}
	return p.wayCost(w.length, len(w.via)), true
}

// wayCost is the cost of a way behind the strokes of so much plan length and
// corners.
func (p *planner) wayCost(length float64, corners int) float64 {
	glass := length + (math.Pi-2)*p.rules.DoubleBackRadius
	return p.costs.Hidden*glass + 2*p.costs.DoubleBack + p.costs.Bend*float64(corners)
}

// linkLength is the glass of a straight link between two posts in the first
// plane behind the face.
func (p *planner) linkLength(runs []run, a, b step) float64 {
	return linkSpan(runs, a, b) + (math.Pi-2)*p.rules.DoubleBackRadius
}

func linkSpan(runs []run, a, b step) float64 {
	return runs[a.run].place[1-a.from].Dist(runs[b.run].place[b.from])
}
