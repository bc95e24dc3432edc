package network

import (
	"math"
	"slices"

	"tubewright/geom"
)

// closePairs returns the pairs of boxes within tol of each other, each box with
// itself too, in order. Boxes are laid on a grid of cells about as large as
// they are, so that the cost goes with the number of boxes and not its square,
// unless they really lie on one another. Empty boxes meet nothing.
func closePairs(boxes []geom.Rect, tol float64) []pair {
	g := newGrid(boxes, tol)
	var out []pair
	seen := make([]int, len(boxes)) // 1 + the last box that met it
	for i, b := range boxes {
		if b.IsEmpty() {
			continue
		}
		first := len(out)
		b = b.Grown(tol)
		g.each(b, func(cell int) {
			for _, j := range g.cells[cell] {
				if j >= i && seen[j] != i+1 && b.Overlaps(boxes[j]) {
					seen[j] = i + 1
					out = append(out, pair{i, j})
				}
			}
		})
		slices.SortFunc(out[first:], func(p, q pair) int { return p.b - q.b })
	}
	return out
}

// grid is a rectangle cut into cells, each with the boxes that reach into it.
type grid struct {
	all    geom.Rect
	size   float64
	nx, ny int
	cells  [][]int
}

func newGrid(boxes []geom.Rect, tol float64) *grid {
	g := &grid{all: geom.EmptyRect(), size: tol}
	var sum float64
	n := 0
	for _, b := range boxes {
		if !b.IsEmpty() {
			g.all = g.all.Union(b)
			sum += max(b.Width(), b.Height())
			n++
		}
	}
	if n == 0 {
		return g
	}
	// No more than about four cells a box, however far the boxes lie apart.
	w, h := g.all.Width(), g.all.Height()
	g.size = max(g.size, sum/float64(n), math.Sqrt(w/float64(n)*h)/2, max(w, h)/(4*float64(n)))
	g.nx, g.ny = 1+int(w/g.size), 1+int(h/g.size)
	g.cells = make([][]int, g.nx*g.ny)
	for i, b := range boxes {
		if !b.IsEmpty() {
			g.each(b, func(cell int) { g.cells[cell] = append(g.cells[cell], i) })
		}
	}
	return g
}

// each calls f for every cell that a box reaches into.
func (g *grid) each(b geom.Rect, f func(cell int)) {
	column := func(x float64) int { return min(max(int((x-g.all.Min.X)/g.size), 0), g.nx-1) }
	row := func(y float64) int { return min(max(int((y-g.all.Min.Y)/g.size), 0), g.ny-1) }
	for y := row(b.Min.Y); y <= row(b.Max.Y); y++ {
		for x := column(b.Min.X); x <= column(b.Max.X); x++ {
			f(y*g.nx + x)
		}
	}
}
