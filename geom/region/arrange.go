package region

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
)

// Overlapping loops are resolved on an integer lattice, where every test is
// exact: edges are cut wherever they meet, cut points rounded to the lattice,
// until nothing meets any more (iterated snap rounding, after Hobby, 1999);
// edges that coincide add up; an edge stays if there is ink on just one side.

// latticeBits is the size of the lattice over the shape: 2^26 steps, so that
// cross products of doubled coordinates stay below 2^63.
const latticeBits = 26

// Edges that all but coincide may go on cutting each other on a fine lattice,
// each cut bending them by a step. On a coarser one they fall together, so
// those are tried; the last has 2^17 steps, far finer than a flattened
// outline.
const (
	coarser    = 1 // bits less each time
	latticeMin = 17
)

// latticePasses bounds the rounds of cutting. Two or three do for glyphs.
const latticePasses = 24

type spot struct{ x, y int64 }

func (a spot) cross(b, c spot) int64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }

// cut is an edge of the arrangement, directed so that a is before b, with the
// number of loops that run along it from a to b less those that run back.
type cut struct {
	a, b spot
	n    int
}

func before(a, b spot) int {
	if c := cmp.Compare(a.x, b.x); c != 0 {
		return c
	}
	return cmp.Compare(a.y, b.y)
}

// settle returns the boundary of the ink of loops that may cross, touch and
// overlap: simple loops with the ink on the left that share at most points.
func settle(loops [][]geom.Point) ([][]geom.Point, error) {
	for bits := latticeBits; ; bits -= coarser {
		out, ok, err := settleOn(loops, bits)
		if ok || err != nil {
			return out, err
		}
		if bits-coarser < latticeMin {
			return nil, fmt.Errorf("the overlaps of the outline cannot be resolved: remove them in the face or artwork")
		}
	}
}

// settleOn settles on a lattice of 2^bits steps. It reports false if edges still
// cut each other after latticePasses rounds.
func settleOn(loops [][]geom.Point, bits int) ([][]geom.Point, bool, error) {
	box := Region{loops}.Bounds()
	step := max(box.Width(), box.Height()) / float64(int64(1)<<bits)
	if step == 0 {
		return nil, true, nil
	}
	var edges []cut
	for _, l := range loops {
		for i := range l {
			a, b := toLattice(l[i], box.Min, step), toLattice(l[(i+1)%len(l)], box.Min, step)
			edges = append(edges, cut{a, b, 1})
		}
	}
	edges = merged(edges)
	for pass := 0; ; pass++ {
		if len(edges) > 4*MaxPoints {
			return nil, false, fmt.Errorf("the outline crosses itself in more than %d places: remove overlaps in the face or artwork", 4*MaxPoints)
		}
		if pass == latticePasses {
			return nil, false, nil
		}
		more, done := cutAll(edges)
		edges = merged(more)
		if done {
			break
		}
	}
	return stitch(boundaryOf(edges), box.Min, step), true, nil
}

func toLattice(p, origin geom.Point, step float64) spot {
	return spot{int64(math.Round((p.X - origin.X) / step)), int64(math.Round((p.Y - origin.Y) / step))}
}

// merged adds up edges that coincide and drops what cancels.
func merged(edges []cut) []cut {
	for i, e := range edges {
		if before(e.a, e.b) > 0 {
			edges[i] = cut{e.b, e.a, -e.n}
		}
	}
	slices.SortFunc(edges, func(e, f cut) int {
		if c := before(e.a, f.a); c != 0 {
			return c
		}
		return before(e.b, f.b)
	})
	var out []cut
	for _, e := range edges {
		if e.a == e.b {
			continue
		}
		if k := len(out) - 1; k >= 0 && out[k].a == e.a && out[k].b == e.b {
			out[k].n += e.n
		} else {
			out = append(out, e)
		}
	}
	return slices.DeleteFunc(out, func(e cut) bool { return e.n == 0 })
}

// cutAll cuts every edge at every lattice point where it meets another. It
// reports done if there was nothing to cut.
func cutAll(edges []cut) (out []cut, done bool) {
	at := make([][]spot, len(edges))
	done = true
	add := func(i int, p spot) {
		if p != edges[i].a && p != edges[i].b {
			at[i] = append(at[i], p)
			done = false
		}
	}
	sweepPairs(edges, func(i, j int) {
		e, f := edges[i], edges[j]
		for _, p := range [2]spot{f.a, f.b} {
			if onEdge(e, p) {
				add(i, p)
			}
		}
		for _, p := range [2]spot{e.a, e.b} {
			if onEdge(f, p) {
				add(j, p)
			}
		}
		if p, ok := crossingAt(e, f); ok {
			add(i, p)
			add(j, p)
		}
	})
	for i, e := range edges {
		slices.SortFunc(at[i], func(p, q spot) int { return cmp.Compare(along(e, p), along(e, q)) })
		last := e.a
		for _, p := range append(at[i], e.b) {
			if p != last {
				out = append(out, cut{last, p, e.n})
				last = p
			}
		}
	}
	return out, done
}

func along(e cut, p spot) float64 {
	return float64(e.b.x-e.a.x)*float64(p.x-e.a.x) + float64(float64(e.b.y-e.a.y)*float64(p.y-e.a.y))
}

// onEdge reports whether p lies on e, within half a lattice step, other than
// at its ends.
func onEdge(e cut, p spot) bool {
	if p == e.a || p == e.b {
		return false
	}
	if p.x < min(e.a.x, e.b.x) || p.x > max(e.a.x, e.b.x) || p.y < min(e.a.y, e.b.y) || p.y > max(e.a.y, e.b.y) {
		return false
	}
	c := e.a.cross(e.b, p)
	if c < 0 {
		c = -c
	}
	return 2*c <= max(abs(e.b.x-e.a.x), abs(e.b.y-e.a.y))
}

func abs(v int64) int64 { return max(v, -v) }

// crossingAt returns the lattice point nearest to where two edges cross.
func crossingAt(e, f cut) (spot, bool) {
	c1, c2 := e.a.cross(e.b, f.a), e.a.cross(e.b, f.b)
	d1, d2 := f.a.cross(f.b, e.a), f.a.cross(f.b, e.b)
	if !(c1 < 0 && c2 > 0 || c1 > 0 && c2 < 0) || !(d1 < 0 && d2 > 0 || d1 > 0 && d2 < 0) {
		return spot{}, false
	}
	t := float64(d1) / (float64(d1) - float64(d2))
	return spot{
		e.a.x + int64(math.Round(t*float64(e.b.x-e.a.x))),
		e.a.y + int64(math.Round(t*float64(e.b.y-e.a.y))),
	}, true
}

// sweepPairs calls f for all pairs of edges whose boxes overlap. Edges are in
// order of their left ends.
func sweepPairs(edges []cut, f func(i, j int)) {
	var active []int
	for i, e := range edges {
		keep := active[:0]
		for _, j := range active {
			o := edges[j]
			if o.b.x < e.a.x {
				continue
			}
			keep = append(keep, j)
			if max(o.a.y, o.b.y) >= min(e.a.y, e.b.y) && max(e.a.y, e.b.y) >= min(o.a.y, o.b.y) {
				f(j, i)
			}
		}
		active = append(keep, i)
	}
}

// boundaryOf returns the edges with ink on one side only, directed with the
// ink on the left.
func boundaryOf(edges []cut) []cut {
	flipped := make([]cut, len(edges)) // x and y swapped, for rays upward
	for i, e := range edges {
		flipped[i] = cut{spot{e.a.y, e.a.x}, spot{e.b.y, e.b.x}, e.n}
	}
	straight, swapped := rowsOf(edges), rowsOf(flipped)
	var out []cut
	for i, e := range edges {
		// left is the winding number on the left of a→b, right on the right
		var left, right int
		if e.a.y != e.b.y {
			far := straight.beyond(edges, i) // just to the right, as +x goes
			if e.b.y > e.a.y {               // going up: +x is on the right, and a crossing leftward adds n
				right, left = far, far+e.n
			} else {
				left, right = far, far-e.n
			}
		} else { // going along +x: +y is on the left
			left = -swapped.beyond(flipped, i)
			right = left - e.n
		}
		switch {
		case left != 0 && right == 0:
			out = append(out, e)
		case left == 0 && right != 0:
			out = append(out, cut{e.b, e.a, 1})
		}
	}
	return out
}

// rows holds the edges that pass through each of a number of bands of y.
type rows struct {
	min, size int64
	in        [][]int32
}

func rowsOf(edges []cut) rows {
	if len(edges) == 0 {
		return rows{}
	}
	lo, hi := int64(math.MaxInt64), int64(math.MinInt64)
	for _, e := range edges {
		lo, hi = min(lo, e.a.y, e.b.y), max(hi, e.a.y, e.b.y)
	}
	n := int64(min(len(edges), 1024))
	r := rows{min: lo, size: (hi-lo)/n + 1}
	r.in = make([][]int32, n)
	for i, e := range edges {
		for k := (min(e.a.y, e.b.y) - lo) / r.size; k <= (max(e.a.y, e.b.y)-lo)/r.size; k++ {
			r.in[k] = append(r.in[k], int32(i))
		}
	}
	return r
}

// beyond returns the winding number just beyond the middle of edge i in +x:
// the sum over edges that a ray to +x meets, upward edges counting plus.
func (r rows) beyond(edges []cut, i int) int {
	m := spot{edges[i].a.x + edges[i].b.x, edges[i].a.y + edges[i].b.y} // doubled, so exact
	w := 0
	for _, k := range r.in[(m.y/2-r.min)/r.size] {
		e := edges[k]
		if int(k) == i {
			continue
		}
		a, b, n := spot{2 * e.a.x, 2 * e.a.y}, spot{2 * e.b.x, 2 * e.b.y}, e.n
		if a.y > b.y {
			a, b, n = b, a, -n
		}
		if a.y <= m.y && m.y < b.y && a.cross(b, m) > 0 { // m is left of the upward edge
			w += n
		}
	}
	return w
}

// stitch joins directed edges to loops. Where several leave one point, the
// loop keeps to the ink it came along, so that loops only touch there.
func stitch(edges []cut, origin geom.Point, step float64) [][]geom.Point {
	slices.SortFunc(edges, func(e, f cut) int {
		if c := before(e.a, f.a); c != 0 {
			return c
		}
		return before(e.b, f.b)
	})
	used := make([]bool, len(edges))
	next := func(e cut) int {
		lo, _ := slices.BinarySearchFunc(edges, e.b, func(f cut, p spot) int { return before(f.a, p) })
		best, at := math.Inf(1), -1
		back := math.Atan2(float64(e.a.y-e.b.y), float64(e.a.x-e.b.x))
		for k := lo; k < len(edges) && edges[k].a == e.b; k++ {
			if used[k] {
				continue
			}
			f := edges[k]
			turn := back - math.Atan2(float64(f.b.y-f.a.y), float64(f.b.x-f.a.x)) // clockwise from where it came
			for turn <= 0 {
				turn += 2 * math.Pi
			}
			if turn < best {
				best, at = turn, k
			}
		}
		return at
	}
	var out [][]geom.Point
	for i := range edges {
		var l []geom.Point
		for k := i; k >= 0 && !used[k]; k = next(edges[k]) {
			used[k] = true
			l = append(l, geom.Point{X: origin.X + step*float64(edges[k].a.x), Y: origin.Y + step*float64(edges[k].a.y)})
		}
		if len(l) >= 3 {
			out = append(out, l)
		}
	}
	return out
}
