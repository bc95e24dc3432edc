package route

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/glass"
)

// randomGraph is a letter of n straight strokes between the nodes of a small
// lattice: they share nodes, cross, and lie apart.
func randomGraph(draw *rand.Rand, n, letter int, at geom.Vec) []Stroke {
	var out []Stroke
	seen := map[[4]float64]bool{}
	for len(out) < n {
		x0, y0, x1, y1 := 100*float64(draw.IntN(3)), 100*float64(draw.IntN(3)), 100*float64(draw.IntN(3)), 100*float64(draw.IntN(3))
		if x0 == x1 && y0 == y1 || seen[[4]float64{x0, y0, x1, y1}] || seen[[4]float64{x1, y1, x0, y0}] {
			continue
		}
		seen[[4]float64{x0, y0, x1, y1}] = true
		out = append(out, stroke(letter, x0+at.X, y0+at.Y, x1+at.X, y1+at.Y))
	}
	return out
}

// Every order, direction and cut of some hundred random stroke graphs, priced
// anew from the cost of single links: the chain is the cheapest of those in the
// fewest units.
func TestRandomStrokeGraphsAgainstBruteForce(t *testing.T) {
	draw := rand.New(rand.NewPCG(20261126, 4))
	cut := 0
	for n := range 400 {
		ss := named(randomGraph(draw, 2+draw.IntN(2), 0, geom.Vec{})...)
		if n%3 == 0 {
			ss = named(append(ss[:2:2], randomGraph(draw, 1+draw.IntN(2), 1, geom.Vec{X: 300})...)...)
		}
		p := newPlanner(ss, glass.Default(12))
		runs := p.makeRuns()
		if len(runs) > 5 {
			runs = runs[:5]
		}
		if len(runs) == 0 {
			continue
		}
		longest := 400 + 1600*draw.Float64()
		line := p.byLine(runs)[0]
		if n%4 == 0 { // as large as the largest run, and a chance of more
			var w, h float64
			for _, r := range runs {
				w, h = max(w, r.box.Width(), r.box.Height()), max(h, min(r.box.Width(), r.box.Height()))
			}
			p.options.Box = [2]float64{w + 12.5 + 150*draw.Float64(), h + 12.5 + 100*draw.Float64()}
		}
		c := p.newChainer(runs, line, try{longest: longest})
		units := c.fewest(line)
		got := c.cheapest(line, units)
		most, cost, even := everyChain(p, runs, line, longest)
		if units != most || got.units != most || math.Abs(got.cost-cost) > 1e-6 {
			t.Errorf("graph %d of %d runs: %d units at %.3f, brute force %d at %.3f", n, len(runs), got.units, got.cost, most, cost)
		}
		if b := c.lineBound(); b > cost+1e-6 {
			t.Errorf("graph %d: bound %.3f over the least cost %.3f", n, b, cost)
		}
		if most > 1 {
			cut++
			l, _ := p.chain(runs, line, try{longest: longest, forbidden: map[[3]int]bool{}})
			// The longest unit is halved to a 32nd of the limit, and a twentieth is let go for the cost.
			if v := longestOf(p, runs, l.steps()); l.units != most || v > 1.05*(even+longest/32)+1e-6 {
				t.Errorf("graph %d: %d units, the longest %.1f mm, where %.1f is enough", n, l.units, v, even)
			}
		}
	}
	if cut < 100 {
		t.Errorf("only %d graphs were cut", cut)
	}
}

// longestOf is the glass of the longest unit of a chain.
func longestOf(p *planner, runs []run, c chainOf) float64 {
	longest, glass := 0.0, 0.0
	for i, s := range c.order {
		if slices.Contains(c.cuts, i) {
			glass = 2 * p.rules.Leg
		} else {
			glass += p.linkLength(runs, c.order[i-1], s)
		}
		glass += runs[s.run].len
		longest = max(longest, glass)
	}
	return longest
}

// everyChain tries everything and returns the fewest units, their least cost, and
// the least glass that the longest of so few can have.
func everyChain(p *planner, runs []run, line [][]int, longest float64) (units int, cost, even float64) {
	units, cost, even = math.MaxInt, math.Inf(1), math.Inf(1)
	var order []step
	used := make([]bool, len(runs))
	price := func() {
		for cuts := range 1 << (len(order) - 1) {
			n, sum := 1, p.costs.Electrodes
			glass, bends := 2*p.rules.Leg+runs[order[0].run].len, runs[order[0].run].bends
			ok, box, largest := true, runs[order[0].run].box, glass
			for i := 1; i < len(order); i++ {
				r := runs[order[i].run]
				if cuts&(1<<(i-1)) != 0 {
					n++
					sum += p.costs.Electrodes
					glass, bends, box = 2*p.rules.Leg+r.len, r.bends, r.box
					largest = max(largest, glass)
					continue
				}
				sum += p.linkCost(runs, order[i-1], order[i])
				glass += p.linkLength(runs, order[i-1], order[i]) + r.len
				largest = max(largest, glass)
				bends += linkBends + r.bends
				box = box.Union(r.box)
				fits := p.options.Box == [2]float64{} || excess(box, p.options.Box, p.rules.Diameter) <= 1e-6
				ok = ok && fits && glass <= longest && bends <= p.rules.MaxBends
			}
			if ok && n < units {
				units, cost, even = n, sum, largest
			} else if ok && n == units {
				cost, even = min(cost, sum), min(even, largest)
			}
		}
	}
	var lay func(letter, left int)
	lay = func(letter, left int) {
		if left == 0 {
			if letter++; letter == len(line) {
				price()
				return
			}
			left = len(line[letter])
		}
		for _, r := range line[letter] {
			if used[r] {
				continue
			}
			used[r] = true
			for side := range 2 {
				order = append(order, step{r, side})
				lay(letter, left-1)
				order = order[:len(order)-1]
			}
			used[r] = false
		}
	}
	lay(-1, 0)
	return units, cost, even
}

// Units fit the bench, door or crate; a stroke that does not is told.
func TestUnitsFitTheBox(t *testing.T) {
	for _, box := range [][2]float64{{320, 200}, {200, 320}, {170, 160}} {
		r := Plan(sign("LLLL"), glass.Default(12), Options{Box: box})
		for i, tb := range r.Tubes {
			if e := excess(planBox(tb), box, 12); e > 0.5 {
				t.Errorf("box %v: unit %d is %.1f mm too large", box, i+1, e)
			}
		}
		if len(r.Tubes) < 2 || has(r.Findings, "unit-too-large") {
			t.Errorf("box %v: %d units, findings %v", box, len(r.Tubes), r.Findings)
		}
	}
	if r := Plan(sign("L"), glass.Default(12), Options{Box: [2]float64{100, 100}}); !has(r.Findings, "unit-too-large") {
		t.Errorf("an L of 138 mm in a box of 100: findings %v", r.Findings)
	}
}

func scattered(draw *rand.Rand, n int) ([]run, []int) {
	runs, letter := make([]run, n), make([]int, n)
	for i := range runs {
		letter[i] = i
		for side := range 2 {
			runs[i].place[side] = geom.Point{X: 400 * draw.Float64(), Y: 400 * draw.Float64()}
		}
		runs[i].len = runs[i].place[0].Dist(runs[i].place[1])
	}
	return runs, letter
}

// A letter of 12 runs that must be cut is solved exactly: leaving out what
// bounds say cannot win changes nothing, and the bound holds.
func TestBoundsLeaveTheOptimumAlone(t *testing.T) {
	draw := rand.New(rand.NewPCG(12, 12))
	for n, size := range []int{7, 8, 8, 9, 9} {
		runs, letter := scattered(draw, size)
		p, line := looseRuns(runs), [][]int{letter}
		c := p.newChainer(runs, line, try{longest: 1100})
		units := c.fewest(line)
		got := c.cheapest(line, units)
		c.most, c.counting, c.free, c.upper, c.need = 0, true, false, math.Inf(1), nil
		if plain := unitsOf(c.sweep(line)); plain != units {
			t.Errorf("case %d: %d units, without bounds %d", n, units, plain)
		}
		c.most, c.counting = units, false
		if plain := c.sweep(line); math.Abs(plain.cost-got.cost) > 1e-6 || units < 2 {
			t.Errorf("case %d: %d units at %.3f, without bounds %.3f", n, units, got.cost, plain.cost)
		}
		if b := c.lineBound(); b > got.cost+1e-6 {
			t.Errorf("case %d: bound %.3f over the least cost %.3f", n, b, got.cost)
		}
	}
}

// Above 12 runs the order is searched, and says by how much it may be dearer
// than the best: the bound holds on sizes solved exactly, and is near.
func TestLargeLettersCarryABound(t *testing.T) {
	draw := rand.New(rand.NewPCG(5, 9))
	var sum float64
	const cases = 40
	for n := range cases {
		runs, letter := scattered(draw, 8+n%5)
		p, line := looseRuns(runs), [][]int{letter}
		g := &net{n: len(letter), w: p.endCosts(runs, letter)}
		bound := g.ascend()
		if g.least = leastOf(countDown(g.w)); bound > g.least+1e-6 {
			t.Errorf("%d runs: bound %.3f over the least cost %.3f", len(runs), bound, g.least)
		}
		sum += 1 - bound/g.least
		if l := p.newChainer(runs, line, try{longest: 1e9}).cheapest(line, 1); l.cost-p.costs.Electrodes < g.least-1e-6 {
			t.Errorf("%d runs: a chain of %.3f under the least cost %.3f", len(runs), l.cost, g.least)
		}
	}
	if mean := sum / cases; mean > 0.04 {
		t.Errorf("the bound is %.1f %% under the least cost on average", 100*mean)
	}
	for _, n := range []int{13, 20, 30} {
		runs, letter := scattered(draw, n)
		p, line := looseRuns(runs), [][]int{letter}
		l, s := p.chain(runs, line, try{longest: 1e9})
		if s.Exact || s.Bound > s.Cost || s.Gap() > 0.12 || l.cost != s.Cost {
			t.Errorf("%d runs: %+v, gap %.1f %%", n, s, 100*s.Gap())
		}
	}
}

func BenchmarkExactTwelveRunsCut(b *testing.B) {
	draw := rand.New(rand.NewPCG(1, 2))
	runs, letter := scattered(draw, exactRuns)
	for b.Loop() {
		looseRuns(runs).chain(runs, [][]int{letter}, try{longest: 1300})
	}
}
