package network

import (
	"math"
	"slices"

	"tubewright/geom"
)

// Node is a place where pieces of stroke end or meet.
type Node struct {
	At     geom.Point
	Degree int   // number of edge ends here; an edge from a node to itself counts twice
	Edges  []int // the edges that end here, in order; such an edge is listed twice
}

// Edge is a piece of one stroke between two nodes.
type Edge struct {
	Stroke   int     // index into the strokes given to Build
	From, To float64 // mm along the stroke, From < To; on a closed stroke To may lie beyond its length, the second time round
	A, B     int     // nodes at From and at To
	// Over is the edge of an earlier stroke, or an earlier edge of this one,
	// that runs in the same place, or -1: the stroke was drawn twice there.
	Over int
}

// Shared is a stretch that two strokes run together.
type Shared struct {
	StrokeA, StrokeB int
	Meeting
}

// Graph is the plane graph of a set of strokes.
type Graph struct {
	Nodes   []Node
	Edges   []Edge
	Overlap []Shared // stretches drawn twice
}

// stop is a place on a stroke where it is cut.
type stop struct {
	stroke int
	s      float64
	at     geom.Point
	node   int // parent in the union-find, then the node
}

// builder collects stops and what joins them.
type builder struct {
	ways   []way
	tol    float64
	stops  []stop
	shared []Shared
}

// Build returns the graph of the strokes. Ends that lie within tol mm of
// another stroke, or of another part of their own, count as lying on it, and
// places within tol of each other are one node; so pieces up to a few tol long
// may vanish. Tol must be over 0; a twentieth of the tube suits.
//
// Nodes and edges come in the order in which the strokes reach them.
func Build(strokes []geom.Path, tol float64) Graph {
	if !(tol > 0) || math.IsInf(tol, 0) {
		panic("network: tol must be over 0")
	}
	b := &builder{tol: tol}
	for i := range strokes {
		b.ways = append(b.ways, newWay(&strokes[i]))
	}
	for i, w := range b.ways {
		if len(w.Segments) > 0 && !w.Closed {
			b.stop(i, 0)
			b.stop(i, w.length)
		}
	}
	for _, p := range closePairs(b.boxes(), tol) {
		b.join(p.a, p.b)
	}
	met := make([]bool, len(b.ways))
	for _, s := range b.stops {
		met[s.stroke] = true
	}
	for i, w := range b.ways { // a closed stroke nobody meets still needs a node
		if len(w.Segments) > 0 && w.Closed && !met[i] {
			b.stop(i, 0)
		}
	}
	b.mergeNear()
	return b.graph()
}

// stop adds a place on a stroke and returns its index.
func (b *builder) stop(stroke int, s float64) int {
	w := b.ways[stroke]
	s = w.inside(s)
	b.stops = append(b.stops, stop{stroke, s, w.point(s), len(b.stops)})
	return len(b.stops) - 1
}

// join stops two strokes where they meet.
func (b *builder) join(i, j int) {
	f := &finder{a: b.ways[i], b: b.ways[j], tol: b.tol, self: i == j}
	for _, m := range f.meetings() {
		b.union(b.stop(i, m.A), b.stop(j, m.B))
		if m.Kind == Overlap {
			b.union(b.stop(i, m.AEnd), b.stop(j, m.BEnd))
			b.shared = append(b.shared, Shared{i, j, m})
		}
	}
}

func (b *builder) boxes() []geom.Rect {
	out := make([]geom.Rect, len(b.ways))
	for i, w := range b.ways {
		out[i] = geom.EmptyRect()
		for _, x := range w.boxes {
			out[i] = out[i].Union(x)
		}
	}
	return out
}

func (b *builder) root(i int) int {
	for b.stops[i].node != i {
		b.stops[i].node = b.stops[b.stops[i].node].node
		i = b.stops[i].node
	}
	return i
}

// union makes two stops one; the earlier keeps the name, so that the order of
// nodes follows the strokes.
func (b *builder) union(i, j int) {
	i, j = b.root(i), b.root(j)
	b.stops[max(i, j)].node = min(i, j)
}

// mergeNear makes one of stops within tol of each other, found by sweeping
// along x.
func (b *builder) mergeNear() {
	order := make([]int, len(b.stops))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return sign(b.stops[i].at.X - b.stops[j].at.X) })
	for x, i := range order {
		for _, j := range order[x+1:] {
			if b.stops[j].at.X-b.stops[i].at.X > b.tol {
				break
			}
			if b.stops[i].at.Dist(b.stops[j].at) <= b.tol {
				b.union(i, j)
			}
		}
	}
}

// graph numbers the nodes and cuts the strokes at the stops.
func (b *builder) graph() Graph {
	g := Graph{Overlap: b.shared}
	number := make([]int, len(b.stops))
	count := make([]float64, 0)
	for i := range b.stops {
		if b.root(i) == i {
			number[i] = len(g.Nodes)
			g.Nodes = append(g.Nodes, Node{})
			count = append(count, 0)
		}
	}
	perStroke := make([][]stop, len(b.ways))
	for i, s := range b.stops {
		s.node = number[b.root(i)]
		n := &g.Nodes[s.node]
		n.At = n.At.Add(geom.Vec{X: s.at.X, Y: s.at.Y})
		count[s.node]++
		perStroke[s.stroke] = append(perStroke[s.stroke], s)
	}
	for i := range g.Nodes {
		g.Nodes[i].At.X /= count[i]
		g.Nodes[i].At.Y /= count[i]
	}
	for i, stops := range perStroke {
		b.cut(&g, i, stops)
	}
	for i, e := range g.Edges {
		g.Nodes[e.A].Edges = append(g.Nodes[e.A].Edges, i)
		g.Nodes[e.B].Edges = append(g.Nodes[e.B].Edges, i)
	}
	for i := range g.Nodes {
		g.Nodes[i].Degree = len(g.Nodes[i].Edges)
	}
	b.findOver(&g)
	return g
}

// cut adds the edges of one stroke.
func (b *builder) cut(g *Graph, stroke int, stops []stop) {
	if len(stops) == 0 {
		return
	}
	w := b.ways[stroke]
	slices.SortStableFunc(stops, func(x, y stop) int { return sign(x.s - y.s) })
	if w.Closed {
		again := stops[0]
		again.s += w.length
		stops = append(stops, again)
	}
	last := stops[0]
	for _, s := range stops[1:] {
		// A piece from a node to itself is a loop only if it goes somewhere.
		if s.node == last.node && !b.leaves(w, last.s, s.s) {
			continue
		}
		g.Edges = append(g.Edges, Edge{Stroke: stroke, From: last.s, To: s.s, A: last.node, B: s.node, Over: -1})
		last = s
	}
}

// leaves reports whether the stroke gets farther than a few tol from where it is
// at s before it is at t.
func (b *builder) leaves(w way, s, t float64) bool {
	if t-s <= 4*b.tol {
		return false
	}
	p := w.point(s)
	const parts = 32
	for k := 1; k < parts; k++ {
		if w.point(s+(t-s)*float64(k)/parts).Dist(p) > 2*b.tol {
			return true
		}
	}
	return false
}

// findOver marks edges that lie in a shared stretch with the edge they repeat.
func (b *builder) findOver(g *Graph) {
	for _, m := range g.Overlap {
		first, last := g.edgesOf(m.StrokeB)
		for j := first; j < last; j++ {
			if e := &g.Edges[j]; e.Over < 0 && within(b.ways[m.StrokeB], e, m.B, m.BEnd, b.tol) {
				e.Over = b.under(g, j, m)
			}
		}
	}
}

// under returns the edge of the first stroke of a shared stretch that edge j
// repeats, or -1.
func (b *builder) under(g *Graph, j int, m Shared) int {
	e := g.Edges[j]
	first, last := g.edgesOf(m.StrokeA)
	for i := first; i < last; i++ {
		d := &g.Edges[i]
		same := d.A == e.A && d.B == e.B || d.A == e.B && d.B == e.A
		if i != j && same && d.Over < 0 && within(b.ways[m.StrokeA], d, m.A, m.AEnd, b.tol) {
			return i
		}
	}
	return -1
}

// edgesOf returns the range of edges of a stroke: they come stroke by stroke.
func (g *Graph) edgesOf(stroke int) (first, last int) {
	before := func(e Edge, s int) int { return e.Stroke - s }
	first, _ = slices.BinarySearchFunc(g.Edges, stroke, before)
	last, _ = slices.BinarySearchFunc(g.Edges, stroke+1, before)
	return first, last
}

// within reports whether the middle of an edge lies in the stretch from lo to hi.
func within(w way, e *Edge, lo, hi, tol float64) bool {
	if lo > hi {
		lo, hi = hi, lo
	}
	mid := (e.From + e.To) / 2
	for _, turn := range [3]float64{0, w.length, -w.length} {
		if v := mid + turn; v >= lo-tol && v <= hi+tol && (turn == 0 || w.Closed) {
			return true
		}
	}
	return false
}
