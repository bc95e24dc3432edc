package sheet

import (
	"math"
	"slices"

	"tubewright/geom"
)

// Label asks for a free place near Anchor, to which a leader line will run.
type Label struct {
	Anchor        geom.Point
	Width, Height float64
	Round         bool     // a circle of diameter Width
	Reach         float64  // how far from Anchor the thing labelled itself extends
	Prefer        geom.Vec // unit direction in which the label is best found; zero for any
}

// Spot is where a label went: its centre, and where its leader meets its border.
type Spot struct {
	Centre geom.Point
	Leader geom.Point
}

// Placer finds places for labels. No label it places touches an obstacle, another
// label or another label's leader, and none is ever left out: far enough away
// there is always room. A leader runs over a label only where every other way is
// over 100 mm longer.
//
// The search is greedy with repair: each label in turn takes the cheapest free
// place on rings of growing size about its anchor, where a place costs its
// distance, more where its leader crosses obstacles or other leaders; then each
// is taken up and set again with all others in place, twice.
type Placer struct {
	gap      float64
	capsules []capsule
	boxes    []geom.Rect // of obstacles first, then of labels
	leaders  []geom.Line // of labels
	grid     map[cellKey]*cell
}

type capsule struct {
	a, b   geom.Point
	radius float64
	box    geom.Rect // of the line from a to b
}

// far reports whether the box of a capsule's line alone keeps it off a box by more
// than a distance.
func (k capsule) far(r geom.Rect, by float64) bool {
	return k.box.Min.X-r.Max.X > by || r.Min.X-k.box.Max.X > by || k.box.Min.Y-r.Max.Y > by || r.Min.Y-k.box.Max.Y > by
}

type cellKey struct{ x, y int }

// cell lists what touches one square of the grid, by index.
type cell struct{ capsules, boxes, leaders []int }

const (
	cellSize   = 12.0 // mm
	ringStep   = 1.5  // mm from one ring of places to the next
	directions = 32
)

// NewPlacer returns a placer that keeps gap mm between labels and all else.
func NewPlacer(gap float64) *Placer { return &Placer{gap: gap, grid: map[cellKey]*cell{}} }

// Block keeps labels off the strip of the given radius about the line from a to b.
func (p *Placer) Block(a, b geom.Point, radius float64) {
	i := len(p.capsules)
	box := geom.EmptyRect().Including(a).Including(b)
	p.capsules = append(p.capsules, capsule{a, b, radius, box})
	p.visit(box.Grown(radius), func(c *cell) { c.capsules = append(c.capsules, i) })
}

// BlockBox keeps labels off a box.
func (p *Placer) BlockBox(r geom.Rect) { p.addBox(r) }

func (p *Placer) addBox(r geom.Rect) int {
	i := len(p.boxes)
	p.boxes = append(p.boxes, r)
	p.visit(r, func(c *cell) { c.boxes = append(c.boxes, i) })
	return i
}

// visit calls f for every cell that a box touches, making them as needed.
func (p *Placer) visit(r geom.Rect, f func(*cell)) {
	p.each(r, true, func(c *cell) bool { f(c); return true })
}

// each calls f for the cells that a box touches until f returns false.
func (p *Placer) each(r geom.Rect, grow bool, f func(*cell) bool) bool {
	x0, x1 := int(math.Floor(r.Min.X/cellSize)), int(math.Floor(r.Max.X/cellSize))
	y0, y1 := int(math.Floor(r.Min.Y/cellSize)), int(math.Floor(r.Max.Y/cellSize))
	for x := x0; x <= x1; x++ {
		for y := y0; y <= y1; y++ {
			c := p.grid[cellKey{x, y}]
			if c == nil && grow {
				c = &cell{}
				p.grid[cellKey{x, y}] = c
			}
			if c != nil && !f(c) {
				return false
			}
		}
	}
	return true
}

// Place finds a spot for every label, in the order given: put the most
// important first.
func (p *Placer) Place(labels []Label) []Spot {
	spots := make([]Spot, len(labels))
	box := make([]int, len(labels))
	leader := make([]int, len(labels))
	put := func(i int) {
		spots[i] = p.best(labels[i])
		box[i] = p.addBox(labels[i].box(spots[i].Centre))
		leader[i] = p.addLeader(geom.Line{A: labels[i].Anchor, B: spots[i].Leader})
	}
	for i := range labels {
		put(i)
	}
	for range 2 {
		for i := range labels {
			p.drop(box[i], leader[i])
			put(i)
		}
	}
	return spots
}

func (p *Placer) addLeader(l geom.Line) int {
	i := len(p.leaders)
	p.leaders = append(p.leaders, l)
	p.visit(lineBox(l), func(c *cell) { c.leaders = append(c.leaders, i) })
	return i
}

// drop takes a box and a leader out of the grid.
func (p *Placer) drop(box, leader int) {
	p.visit(p.boxes[box], func(c *cell) { c.boxes = without(c.boxes, box) })
	p.visit(lineBox(p.leaders[leader]), func(c *cell) { c.leaders = without(c.leaders, leader) })
}

func without(list []int, i int) []int {
	for k, v := range list {
		if v == i {
			return append(list[:k], list[k+1:]...)
		}
	}
	return list
}

func lineBox(l geom.Line) geom.Rect { return geom.EmptyRect().Including(l.A).Including(l.B) }

func (l Label) box(c geom.Point) geom.Rect {
	h := geom.Vec{X: l.Width / 2, Y: l.Height / 2}
	return geom.Rect{Min: c.Add(h.Neg()), Max: c.Add(h)}
}

// depth returns how far the label reaches from its centre toward -d, so that
// its border just touches a line square to d.
func (l Label) depth(d geom.Vec) float64 {
	if l.Round {
		return l.Width / 2
	}
	return float64(l.Width/2*math.Abs(d.X)) + float64(l.Height/2*math.Abs(d.Y))
}

// border returns where the line from the anchor to centre c enters the label.
func (l Label) border(c geom.Point) geom.Point {
	d := l.Anchor.Sub(c)
	n := d.Norm()
	if n == 0 {
		return c
	}
	if l.Round {
		return c.Add(d.Mul(min(1, l.Width/2/n)))
	}
	k := 1.0
	if d.X != 0 {
		k = min(k, l.Width/2/math.Abs(d.X))
	}
	if d.Y != 0 {
		k = min(k, l.Height/2/math.Abs(d.Y))
	}
	return c.Add(d.Mul(k))
}

func (p *Placer) best(l Label) Spot {
	best, found := math.Inf(1), Spot{l.Anchor, l.Anchor}
	for far := 0.0; far < best; far += ringStep {
		for k := range directions {
			d := geom.UnitAt(geom.Angle(k) * 360 / directions * geom.Degree)
			c := l.Anchor.Add(d.Mul(l.Reach + p.gap + 1e-6 + l.depth(d) + far))
			cost := far
			if l.Prefer != (geom.Vec{}) {
				cost += 3 * (1 - d.Dot(l.Prefer))
			}
			if cost >= best || !p.free(l.box(c)) {
				continue
			}
			at := l.border(c)
			cost += p.leaderCost(geom.Line{A: l.Anchor, B: at}, l.Reach, best-cost)
			if cost < best {
				best, found = cost, Spot{c, at}
			}
		}
	}
	return found
}

// free reports whether a box keeps its gap from every obstacle, label and leader.
func (p *Placer) free(r geom.Rect) bool {
	wide := r.Grown(p.gap)
	return p.each(wide, false, func(c *cell) bool {
		for _, i := range c.boxes {
			if p.boxes[i].Overlaps(wide) {
				return false
			}
		}
		for _, i := range c.leaders {
			if rectDistance(r, p.leaders[i].A, p.leaders[i].B) < p.gap/2 {
				return false
			}
		}
		for _, i := range c.capsules {
			k := &p.capsules[i]
			if !k.far(r, k.radius+p.gap) && rectDistance(r, k.a, k.b) < k.radius+p.gap {
				return false
			}
		}
		return true
	})
}

// What it costs, in mm of distance, when a leader runs over a label or a box, when
// it crosses another leader, and when it runs one mm over an obstacle that is not
// its own.
const (
	labelCost    = 100.0
	crossingCost = 15.0
	overCost     = 0.8
)

// leaderCost returns the price of a leader that need not be worked out beyond
// most.
func (p *Placer) leaderCost(l geom.Line, reach, most float64) float64 {
	cost := 0.0
	var boxes, leaders []int // counted already: a cell may name them again
	p.each(lineBox(l).Grown(p.gap), false, func(c *cell) bool {
		for _, i := range c.boxes {
			if !slices.Contains(boxes, i) && rectDistance(p.boxes[i], l.A, l.B) < p.gap/2 {
				boxes = append(boxes, i)
				cost += labelCost
			}
		}
		for _, i := range c.leaders {
			if !slices.Contains(leaders, i) && cross(l, p.leaders[i]) {
				leaders = append(leaders, i)
				cost += crossingCost
			}
		}
		return cost < most
	})
	if cost >= most {
		return cost
	}
	n := l.Length()
	for s := reach + 0.5; s < n; s++ {
		if p.covered(l.PointAt(s)) {
			cost += overCost
		}
	}
	return cost
}

// covered reports whether a point lies on an obstacle strip.
func (p *Placer) covered(q geom.Point) bool {
	return !p.each(geom.Rect{Min: q, Max: q}, false, func(c *cell) bool {
		for _, i := range c.capsules {
			k := &p.capsules[i]
			if k.far(geom.Rect{Min: q, Max: q}, k.radius) {
				continue
			}
			l := geom.Line{A: k.a, B: k.b}
			if l.PointAt(l.Nearest(q)).Dist(q) < k.radius {
				return false
			}
		}
		return true
	})
}

// cross reports whether two lines have a point in common.
func cross(l, m geom.Line) bool {
	d, e := l.B.Sub(l.A), m.B.Sub(m.A)
	side := func(v geom.Vec, a, b, o geom.Point) bool {
		return v.Cross(a.Sub(o))*v.Cross(b.Sub(o)) <= 0
	}
	return lineBox(l).Overlaps(lineBox(m)) && side(d, m.A, m.B, l.A) && side(e, l.A, l.B, m.A)
}

// rectDistance returns the distance from a box to the line from a to b, 0 where
// they meet.
func rectDistance(r geom.Rect, a, b geom.Point) float64 {
	corners := [4]geom.Point{r.Min, {X: r.Max.X, Y: r.Min.Y}, r.Max, {X: r.Min.X, Y: r.Max.Y}}
	l := geom.Line{A: a, B: b}
	if r.Contains(a) || r.Contains(b) {
		return 0
	}
	best := math.Inf(1)
	for i, c := range corners {
		if cross(l, geom.Line{A: c, B: corners[(i+1)%4]}) {
			return 0
		}
		best = min(best, l.PointAt(l.Nearest(c)).Dist(c))
	}
	for _, q := range [2]geom.Point{a, b} {
		near := geom.Point{X: min(max(q.X, r.Min.X), r.Max.X), Y: min(max(q.Y, r.Min.Y), r.Max.Y)}
		best = min(best, near.Dist(q))
	}
	return best
}
