package medial

import (
	"errors"
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/geom/region"
)

// Node is a place where pieces of axis meet: a centre whose disc touches
// three walls or more, a change of wall on the way, or (degree 1, radius 0) a
// convex corner of the outline.
type Node struct {
	At     geom.Point
	Radius float64
	Degree int
}

// Edge is one stretch of axis between two walls, from node A to node B, with
// the right wall travelled forward.
type Edge struct {
	A, B  int
	piece int32
}

// Axis is the medial axis of a region: a plane graph.
type Axis struct {
	Nodes []Node
	Edges []Edge

	field  *field
	pieces []piece
	length []float64 // of each loop, mm
}

// Contact is a place where a disc touches the outline.
type Contact struct {
	Loop  int
	Along float64 // mm from the loop's first point, in its direction
	At    geom.Point
}

// Sample is a disc of the axis.
type Sample struct {
	At          geom.Point
	Radius      float64
	Left, Right Contact // seen in the direction of travel
}

// LoopLength returns the length of loop i of the region.
func (a *Axis) LoopLength(i int) float64 { return a.length[i] }

// ErrViews is what every error of New wraps: the axis as seen from the walls
// on its right is not the axis as seen from the walls on its left.
var ErrViews = errors.New("the two views of the axis cannot be brought to agree")

// New works out the medial axis of r. The loops of r must be simple and
// disjoint, as region.FromLoops makes them. It fails only with ErrViews:
// some three in two hundred tangles of random lines do, and no letter yet.
func New(r region.Region) (*Axis, error) {
	if len(r.Loops) == 0 {
		return &Axis{}, nil
	}
	var err error
	for try := range 8 {
		var a *Axis
		if a, err = build(jittered(r, try)); err == nil {
			return a, nil
		}
	}
	return nil, fmt.Errorf("medial axis: %w", err)
}

// jittered moves every point by up to 1e-8·try of the region's size, by a
// fixed rule: it breaks ties that rounding decides differently from two sides.
func jittered(r region.Region, try int) region.Region {
	if try == 0 {
		return r
	}
	b := r.Bounds()
	k := 1e-8 * float64(try*try*try) * max(b.Width(), b.Height())
	out := region.Region{Loops: make([][]geom.Point, len(r.Loops))}
	h := uint32(2166136261)
	next := func() float64 { // FNV-style mixing, the same on every machine
		h = (h ^ 0x5bd1e995) * 16777619
		return float64(h>>8)/float64(1<<24) - 0.5
	}
	for i, l := range r.Loops {
		out.Loops[i] = make([]geom.Point, len(l))
		for j, p := range l {
			out.Loops[i][j] = geom.Point{X: p.X + k*next(), Y: p.Y + k*next()}
		}
	}
	return out
}

func build(r region.Region) (*Axis, error) {
	walls := wallsOf(r)
	f := newField(walls, r.Bounds())
	a := &Axis{field: f, length: make([]float64, len(r.Loops))}
	for i := range walls {
		if w := &walls[i]; !w.point {
			a.length[w.loop] = w.at + w.span
		}
	}
	lists := make([][]piece, len(walls))
	extra := make([][]float64, len(walls))
	hint := int32(-1) // one wall ends where the next begins, often under the same disc
	for e := range walls {
		lists[e] = f.envelope(int32(e), nil, hint)
		if n := len(lists[e]); n > 0 {
			hint = lists[e][n-1].j
		}
	}
	for range 6 {
		dirty := f.mismatches(lists, extra)
		if len(dirty) == 0 {
			break
		}
		for _, e := range dirty {
			lists[e] = f.envelope(e, extra[e], -1)
		}
	}
	a.pieces, _ = match(f, lists)
	a.link()
	return a, a.check(r)
}

// twinNear is how far apart, as a share of the region's size, the two views of
// one end of a piece may lie: well above rounding, well below the gaps that
// region leaves between loops that touch.
const twinNear = 1e-7

// pairUp finds for piece q of list e the piece of list j that is its twin:
// the nearest with swapped ends.
func pairUp(q *piece, list []piece, near float64) int {
	best, at := near, -1
	for k := range list {
		p := &list[k]
		if p.j != q.e {
			continue
		}
		if d := max(p.c0.Dist(q.c1), p.c1.Dist(q.c0)); d <= best {
			best, at = d, k
		}
	}
	return at
}

// mismatches returns the walls whose view lacks a piece that the other wall
// sees, after noting in extra where to look.
func (f *field) mismatches(lists [][]piece, extra [][]float64) []int32 {
	near := twinNear * f.size
	var dirty []int32
	for e := range lists {
		for i := range lists[e] {
			q := &lists[e][i]
			if pairUp(q, lists[q.j], near) >= 0 || q.c0.Dist(q.c1) <= near {
				continue
			}
			for _, k := range [3]float64{0.5, 1e-3, 1 - 1e-3} {
				t := q.t0 + k*(q.t1-q.t0)
				c, _ := f.disc(q.e, t, q.j)
				extra[q.j] = append(extra[q.j], f.walls[q.j].foot(c))
			}
			extra[q.e] = append(extra[q.e], (q.t0+q.t1)/2)
			dirty = append(dirty, q.j, q.e)
		}
	}
	return distinct(dirty)
}

func distinct(v []int32) []int32 {
	seen := map[int32]bool{}
	var out []int32
	for _, x := range v {
		if !seen[x] {
			seen[x] = true
			out = append(out, x)
		}
	}
	return out
}

// match numbers the pieces wall by wall, drops those that have no twin (all
// shorter than rounding, or check will object) and links the rest.
func match(f *field, lists [][]piece) ([]piece, []wall) {
	first := make([]int32, len(lists)+1)
	var all []piece
	for e := range lists {
		first[e] = int32(len(all))
		all = append(all, lists[e]...)
	}
	first[len(lists)] = int32(len(all))
	near := 10 * twinNear * f.size
	for i := range all {
		q := &all[i]
		if q.twin >= 0 || q.e > q.j {
			continue
		}
		best, at := near, int32(-1)
		for k := first[q.j]; k < first[q.j+1]; k++ {
			p := &all[k]
			if p.j != q.e || p.twin >= 0 {
				continue
			}
			if d := max(p.c0.Dist(q.c1), p.c1.Dist(q.c0)); d <= best {
				best, at = d, k
			}
		}
		if at >= 0 {
			q.twin, all[at].twin = at, int32(i)
		}
	}
	renumber := make([]int32, len(all))
	kept := all[:0]
	for i := range all {
		renumber[i] = int32(len(kept))
		if all[i].twin >= 0 {
			kept = append(kept, all[i])
		}
	}
	for i := range kept {
		kept[i].twin = renumber[kept[i].twin]
	}
	return kept, f.walls
}

// link finds the nodes: the piece after h along the wall, seen from its other
// wall, arrives at the same node as h; going on so closes a round.
func (a *Axis) link() {
	next := a.nextPieces()
	node := make([]int32, len(a.pieces)) // the node where each piece ends
	for i := range node {
		node[i] = -1
	}
	for i := range a.pieces {
		if node[i] >= 0 {
			continue
		}
		id := int32(len(a.Nodes))
		var n Node
		var x, y, r float64
		for h := int32(i); node[h] < 0; h = a.pieces[next[h]].twin {
			node[h] = id
			p := &a.pieces[h]
			x, y, r = x+p.c1.X, y+p.c1.Y, r+p.r1
			n.Degree++
		}
		k := float64(n.Degree)
		n.At, n.Radius = geom.Point{X: x / k, Y: y / k}, r/k
		a.Nodes = append(a.Nodes, n)
	}
	for i := range a.pieces {
		if t := a.pieces[i].twin; int32(i) < t {
			a.Edges = append(a.Edges, Edge{A: int(node[t]), B: int(node[i]), piece: int32(i)})
		}
	}
}

// nextPieces returns for each piece the next along its loop.
func (a *Axis) nextPieces() []int32 {
	next := make([]int32, len(a.pieces))
	for lo := 0; lo < len(a.pieces); {
		loop := a.field.walls[a.pieces[lo].e].loop
		hi := lo
		for hi < len(a.pieces) && a.field.walls[a.pieces[hi].e].loop == loop {
			next[hi] = int32(hi) + 1
			hi++
		}
		next[hi-1] = int32(lo)
		lo = hi
	}
	return next
}

// check holds the axis against the region: ends of pieces that share a node
// must meet, and pieces of ink minus holes must equal nodes minus edges.
func (a *Axis) check(r region.Region) error {
	outer, holes := r.Pieces()
	if got := len(a.Nodes) - len(a.Edges); got != outer-holes {
		return fmt.Errorf("%w: %d nodes and %d edges do not fit %d pieces of ink with %d holes", ErrViews, len(a.Nodes), len(a.Edges), outer, holes)
	}
	for _, e := range a.Edges {
		q := &a.pieces[e.piece]
		if d := max(q.c0.Dist(a.Nodes[e.A].At), q.c1.Dist(a.Nodes[e.B].At)); !(d <= 1e-3*a.field.size) {
			return fmt.Errorf("%w: they differ by %g mm at (%g, %g)", ErrViews, d, q.c1.X, q.c1.Y)
		}
	}
	return nil
}

// Slope returns the size of dr/ds along edge i, the change of radius per mm
// of axis, averaged: the cosine of the object half-angle.
func (a *Axis) Slope(i int) float64 {
	q := &a.pieces[a.Edges[i].piece]
	d := q.c0.Dist(q.c1)
	if d <= a.field.hair {
		return 0
	}
	return math.Abs(q.r1-q.r0) / d
}

// samples lists discs along edge i from A to B, at most step apart.
func (a *Axis) samples(i int, step float64) []Sample {
	e := a.Edges[i]
	q := &a.pieces[e.piece]
	n := max(1, int(math.Ceil(q.c0.Dist(q.c1)/step)))
	out := make([]Sample, n+1)
	for k := range out {
		t := q.t0 + (q.t1-q.t0)*float64(k)/float64(n)
		c, r := q.c0, q.r0
		switch k {
		case 0:
		case n:
			c, r = q.c1, q.r1
		default:
			c, r = a.field.disc(q.e, t, q.j)
		}
		out[k] = Sample{At: c, Radius: r, Right: a.contact(q.e, t), Left: a.contact(q.j, a.field.walls[q.j].foot(c))}
	}
	return out
}

func (a *Axis) contact(e int32, t float64) Contact {
	w := &a.field.walls[e]
	p, _ := w.place(t)
	return Contact{Loop: int(w.loop), Along: w.along(t), At: p}
}

// Reversed returns the sample as seen by travelling the other way.
func (s Sample) Reversed() Sample {
	s.Left, s.Right = s.Right, s.Left
	return s
}
