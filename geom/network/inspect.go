package network

import (
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
)

// Rates prices what makes a graph of strokes runnable by tubes, in
// mm-equivalents. Every rate is at least 0; math.Inf(1) is never, and so is
// whatever costs over Dearest.
type Rates struct {
	Double    float64 // each mm of stroke run a second time
	PerDouble float64 // each stretch run a second time, besides its length
	Jump      float64 // each mm of straight hidden run between two nodes
	PerJump   float64 // each such run, besides its length
	Unit      float64 // each trail beyond the first
	Closed    bool    // trails end where they start
}

// Dearest is the greatest cost of one measure that is not never, mm-equivalents.
const Dearest = 1e7

// DoubledOnly asks for one trail with the least length run twice: the open
// Chinese postman problem (Edmonds and Johnson, Mathematical Programming 5,
// 1973, 88-124). It needs a graph of one part.
func DoubledOnly() Rates {
	never := math.Inf(1)
	return Rates{Double: 1, Jump: never, PerJump: never, Unit: never}
}

// JumpedOnly asks for one trail with the least length of straight jumps.
func JumpedOnly() Rates {
	never := math.Inf(1)
	return Rates{Double: never, PerDouble: never, Jump: 1, Unit: never}
}

// TrailsOnly asks for trails that run every edge once: Cost is the least number
// of them, less 1.
func TrailsOnly() Rates {
	never := math.Inf(1)
	return Rates{Double: never, PerDouble: never, Jump: never, PerJump: never, Unit: 1}
}

// Inspection is a route inspection: trails that run every edge at least once.
type Inspection struct {
	Cost  float64 // mm-equivalents: what is doubled, jumped and started anew
	Bound float64 // no answer costs less; proved, but for a rounding of 1e-6 a measure
	Exact bool    // Cost is the least

	Links  []Link  // what was added to make the trails possible
	Trails []Trail // an order in which to run it all; a witness, not the best to bend

	Doubled float64 // mm run again
	Jumped  float64 // mm of jumps
}

// Link runs from node A to node B over doubled edges and jumps, and so makes
// two odd nodes even or ties parts together.
type Link struct {
	A, B  int
	Steps []Step
	Cost  float64 // mm-equivalents
}

// Move is a way of going from node to node.
type Move int

const (
	Run  Move = iota // along an edge for the first time
	Back             // along an edge run before, or to be run again
	Leap             // straight, along no edge
)

func (m Move) String() string { return [...]string{"run", "back", "leap"}[m] }

// Step is one move of a trail.
type Step struct {
	Move     Move
	Edge     int // -1 for a Leap
	From, To int // nodes
}

// Trail is a sequence of steps, each from where the last one ended.
type Trail []Step

// most is the number of nodes of one connected part that are solved together:
// about 200 letters of joined script. Time grows with its third power, memory
// with its square; at the limit they are 10 s and 200 MB.
const most = 1024

// cost is in millionths of a mm-equivalent. Whole numbers make every machine
// choose alike, and let a bound meet a cost.
type cost = int64

const (
	perMM      = 1e6
	never cost = 1 << 50
)

func costOf(v float64) cost {
	if !(v <= Dearest) {
		return never
	}
	return cost(math.Round(v * perMM))
}

func (r Rates) check() error {
	for _, f := range []struct {
		name string
		v    float64
	}{{"Double", r.Double}, {"PerDouble", r.PerDouble}, {"Jump", r.Jump}, {"PerJump", r.PerJump}, {"Unit", r.Unit}} {
		if !(f.v >= 0) {
			return fmt.Errorf("network: rate %s is %v, must be 0 or more", f.name, f.v)
		}
	}
	return nil
}

// priced is fixed + rate·length, never where either is, whatever the length.
func priced(fixed, rate, length float64) cost {
	if !(rate <= Dearest) {
		return never
	}
	return costOf(fixed + float64(rate*length))
}

// Inspect returns the cheapest trails that run every edge at least once:
// exactly where Exact says so, which is always for a graph of one part, and
// otherwise within Cost - Bound of the least. Edges drawn twice (Edge.Over) are
// run as one.
//
// An odd node must be the end of a trail or of a link, so the question is which
// odd nodes to link and which to leave (Edmonds and Johnson 1973). Links take
// the cheapest way over doubled edges and jumps, between nodes; jumps may tie
// parts together. With Unit over 0 and less than never it also says how many
// trails are best.
//
// Errors: a rate below 0; a part of more than 1024 nodes; no answer, as with
// two parts and neither jumps nor a second trail allowed.
func (g Graph) Inspect(r Rates) (Inspection, error) {
	if err := r.check(); err != nil {
		return Inspection{}, err
	}
	q := newInspector(g, r)
	if len(q.parts) == 0 {
		return Inspection{Exact: true}, nil
	}
	for _, p := range q.parts {
		if len(p.nodes) > most {
			at := g.Nodes[p.nodes[0]].At
			return Inspection{}, fmt.Errorf("network: the strokes joined to (%.1f, %.1f) mm meet at %d nodes, at most %d can be solved together: split them", at.X, at.Y, len(p.nodes), most)
		}
	}
	var out Inspection
	var total, bound cost
	all := q.clusters()
	if q.unit >= never && len(all) > 1 {
		return out, fmt.Errorf("network: %d parts apart cannot be one trail: allow jumps or more trails", len(all))
	}
	for i, parts := range all {
		a := q.solve(parts)
		if a.cost >= never {
			return Inspection{}, fmt.Errorf("network: %d odd nodes cannot all be run: allow doubling, jumps or more trails", q.oddOf(parts))
		}
		if i > 0 {
			a.cost, a.bound = a.cost+q.unit, a.bound+q.unit
		}
		total, bound = total+a.cost, bound+a.bound
		q.write(&out, parts, a)
	}
	out.Cost, out.Bound, out.Exact = float64(total)/perMM, float64(bound)/perMM, total == bound
	return out, nil
}

// part is a connected part of the graph.
type part struct {
	nodes []int
	box   geom.Rect
}

// inspector holds the graph without what is drawn twice.
type inspector struct {
	g      Graph
	rates  Rates
	unit   cost
	at     [][]int // edges of each node; a loop is listed twice
	parts  []part
	partOf []int // of each node, or -1
}

func newInspector(g Graph, r Rates) *inspector {
	q := &inspector{g: g, rates: r, unit: costOf(r.Unit), at: make([][]int, len(g.Nodes)), partOf: make([]int, len(g.Nodes))}
	for i, e := range g.Edges {
		if e.Over < 0 {
			q.at[e.A] = append(q.at[e.A], i)
			q.at[e.B] = append(q.at[e.B], i)
		}
	}
	for i := range q.partOf {
		q.partOf[i] = -1
	}
	for i := range g.Nodes {
		if q.partOf[i] < 0 && len(q.at[i]) > 0 {
			q.grow(i)
		}
	}
	return q
}

// grow adds the part of a node.
func (q *inspector) grow(first int) {
	p := part{box: geom.EmptyRect()}
	n := len(q.parts)
	q.partOf[first] = n
	for todo := []int{first}; len(todo) > 0; {
		i := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		p.nodes = append(p.nodes, i)
		p.box = p.box.Including(q.g.Nodes[i].At)
		for _, e := range q.at[i] {
			j := q.other(e, i)
			if q.partOf[j] < 0 {
				q.partOf[j] = n
				todo = append(todo, j)
			}
		}
	}
	slices.Sort(p.nodes)
	q.parts = append(q.parts, p)
}

// other returns the node at the other end of an edge.
func (q *inspector) other(e, node int) int {
	if q.g.Edges[e].A == node {
		return q.g.Edges[e].B
	}
	return q.g.Edges[e].A
}

func (q *inspector) jump(i, j int) cost {
	return priced(q.rates.PerJump, q.rates.Jump, q.g.Nodes[i].At.Dist(q.g.Nodes[j].At))
}

func (q *inspector) oddOf(parts []int) int {
	n := 0
	for _, p := range parts {
		for _, i := range q.parts[p].nodes {
			n += len(q.at[i]) % 2
		}
	}
	return n
}

// clusters returns the parts in groups that no useful jump joins, in order. A
// jump dearer than a unit is never of use: without it there is at most one
// trail more. (That does not hold for closed trails, which need their parity.)
func (q *inspector) clusters() [][]int {
	lead := make([]int, len(q.parts))
	for i := range lead {
		lead[i] = i
	}
	root := func(i int) int {
		for lead[i] != i {
			i = lead[i]
		}
		return i
	}
	limit := q.unit
	if q.rates.Closed {
		limit = never
	}
	var order []int
	for i, p := range q.partOf {
		if p >= 0 {
			order = append(order, i)
		}
	}
	nodes := q.g.Nodes
	slices.SortStableFunc(order, func(i, j int) int { return sign(nodes[i].At.X - nodes[j].At.X) })
	groups := len(q.parts)
	for x, i := range order {
		for _, j := range order[x+1:] {
			// The cost grows with the distance, and that with the distance along x.
			if groups == 1 || priced(q.rates.PerJump, q.rates.Jump, nodes[j].At.X-nodes[i].At.X) >= limit {
				break
			}
			a, b := root(q.partOf[i]), root(q.partOf[j])
			if a != b && q.jump(i, j) < limit {
				lead[max(a, b)] = min(a, b)
				groups--
			}
		}
	}
	group := make([][]int, len(q.parts))
	for i := range q.parts {
		group[root(i)] = append(group[root(i)], i)
	}
	return slices.DeleteFunc(group, func(g []int) bool { return len(g) == 0 })
}
