package region

import (
	"math"
	"slices"

	"tubewright/geom"
)

// separate moves points that touch another part of the outline by a hair
// (tol/20) into the corner they are the tip of, so that loops become disjoint.
func separate(loops [][]geom.Point, tol float64) [][]geom.Point {
	type touch struct{ loop, point int }
	var moved []touch
	g := newGrid(loops)
	for i, l := range loops {
		for j, p := range l {
			if g.touches(i, j, p, tol/40) {
				moved = append(moved, touch{i, j})
			}
		}
	}
	out := make([][]geom.Point, len(loops))
	for i, l := range loops {
		out[i] = slices.Clone(l)
	}
	for _, m := range moved {
		l := loops[m.loop]
		n := len(l)
		p, a, b := l[m.point], l[(m.point+n-1)%n], l[(m.point+1)%n]
		d := a.Sub(p).Unit().Add(b.Sub(p).Unit())
		out[m.loop][m.point] = p.Add(d.Unit().Mul(tol / 20))
	}
	return out
}

// crossing reports whether any two edges meet otherwise than as neighbours.
func crossing(loops [][]geom.Point, near float64) bool {
	g := newGrid(loops)
	for _, cell := range g.cells {
		for x, a := range cell {
			for _, b := range cell[x+1:] {
				if g.meet(a, b, near) {
					return true
				}
			}
		}
	}
	return false
}

// edgeRef names the edge from point At of loop Loop to the next.
type edgeRef struct{ loop, at int }

// grid holds every edge in each square cell it may pass through.
type grid struct {
	loops      [][]geom.Point
	box        geom.Rect
	size       float64
	cols, rows int
	cells      [][]edgeRef
}

func newGrid(loops [][]geom.Point) *grid {
	g := &grid{loops: loops, box: geom.EmptyRect()}
	n := 0
	for _, l := range loops {
		n += len(l)
		for _, p := range l {
			g.box = g.box.Including(p)
		}
	}
	if n == 0 {
		return g
	}
	w, h := g.box.Width(), g.box.Height()
	g.size = max(math.Sqrt(w*h/float64(n)), max(w, h)/512, 1e-9)
	g.cols, g.rows = int(w/g.size)+1, int(h/g.size)+1
	g.cells = make([][]edgeRef, g.cols*g.rows)
	for i, l := range loops {
		for j, a := range l {
			g.each(geom.EmptyRect().Including(a).Including(l[(j+1)%len(l)]), func(c int) {
				g.cells[c] = append(g.cells[c], edgeRef{i, j})
			})
		}
	}
	return g
}

// each calls f with every cell that the box overlaps.
func (g *grid) each(b geom.Rect, f func(cell int)) {
	x0, x1 := g.index(b.Min.X-g.box.Min.X, g.cols), g.index(b.Max.X-g.box.Min.X, g.cols)
	y0, y1 := g.index(b.Min.Y-g.box.Min.Y, g.rows), g.index(b.Max.Y-g.box.Min.Y, g.rows)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			f(y*g.cols + x)
		}
	}
}

func (g *grid) index(v float64, n int) int { return min(max(int(v/g.size), 0), n-1) }

func (g *grid) ends(e edgeRef) (a, b geom.Point) {
	l := g.loops[e.loop]
	return l[e.at], l[(e.at+1)%len(l)]
}

// meet reports whether two edges cross or come within near of each other,
// other than neighbours at the point they share.
func (g *grid) meet(e, f edgeRef, near float64) bool {
	a, b := g.ends(e)
	c, d := g.ends(f)
	if e.loop == f.loop {
		n := len(g.loops[e.loop])
		if (e.at+1)%n == f.at || (f.at+1)%n == e.at {
			return false
		}
	}
	if max(a.X, b.X)+near < min(c.X, d.X) || max(c.X, d.X)+near < min(a.X, b.X) ||
		max(a.Y, b.Y)+near < min(c.Y, d.Y) || max(c.Y, d.Y)+near < min(a.Y, b.Y) {
		return false
	}
	ab, cd := b.Sub(a), d.Sub(c)
	if ab.Cross(c.Sub(a))*ab.Cross(d.Sub(a)) < 0 && cd.Cross(a.Sub(c))*cd.Cross(b.Sub(c)) < 0 {
		return true
	}
	return min(segmentDistance(a, b, c), segmentDistance(a, b, d), segmentDistance(c, d, a), segmentDistance(c, d, b)) <= near
}

// touches reports whether point (loop, at), lying at p, is within near of an
// edge it does not belong to.
func (g *grid) touches(loop, at int, p geom.Point, near float64) bool {
	n := len(g.loops[loop])
	hit := false
	g.each(geom.EmptyRect().Including(p).Grown(near), func(c int) {
		for _, e := range g.cells[c] {
			if e.loop == loop && (e.at == at || (e.at+1)%n == at) {
				continue
			}
			a, b := g.ends(e)
			hit = hit || segmentDistance(a, b, p) <= near
		}
	})
	return hit
}

// Connected groups outlines whose ink overlaps or touches, directly or
// through others. Every index is in exactly one group; groups and their
// members are in rising order.
func Connected(outlines []geom.Outline, tol float64) [][]int {
	parent := make([]int, len(outlines))
	loops := make([][][]geom.Point, len(outlines))
	boxes := make([]geom.Rect, len(outlines))
	for i, o := range outlines {
		parent[i] = i
		loops[i] = cleanLoops(Flatten(o, tol), tol)
		boxes[i] = Region{loops[i]}.Bounds()
	}
	root := func(i int) int {
		for parent[i] != i {
			i = parent[i]
		}
		return i
	}
	for i := range outlines {
		for j := range i {
			if boxes[i].Overlaps(boxes[j]) && root(i) != root(j) && inkMeets(loops[i], loops[j], tol) {
				parent[max(root(i), root(j))] = min(root(i), root(j))
			}
		}
	}
	groups := make([][]int, len(outlines))
	var out [][]int
	for i := range outlines {
		groups[root(i)] = append(groups[root(i)], i)
	}
	for _, g := range groups {
		if len(g) > 0 {
			out = append(out, g)
		}
	}
	return out
}

// inkMeets reports whether two shapes cross or one lies in the other's ink.
func inkMeets(a, b [][]geom.Point, tol float64) bool {
	if len(a) == 0 || len(b) == 0 {
		return false
	}
	g := newGrid(append(slices.Clone(a), b...))
	for _, cell := range g.cells {
		for x, e := range cell {
			for _, f := range cell[x+1:] {
				if (e.loop < len(a)) != (f.loop < len(a)) && g.meet(e, f, tol*1e-3) {
					return true
				}
			}
		}
	}
	for _, l := range a {
		if winding(b, l[0]) != 0 {
			return true
		}
	}
	for _, l := range b {
		if winding(a, l[0]) != 0 {
			return true
		}
	}
	return false
}

func winding(loops [][]geom.Point, p geom.Point) int {
	w := 0
	for _, l := range loops {
		if inLoop(l, p) {
			w += turn(l)
		}
	}
	return w
}
