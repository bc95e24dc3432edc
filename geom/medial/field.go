package medial

import (
	"math"

	"tubewright/geom"
)

// field answers, for a place on a wall, which other wall limits the disc
// there. Walls are held in a square grid, so that an answer costs the walls
// near the disc and not all of them.
type field struct {
	walls      []wall
	size       float64 // of the whole region, mm
	hair       float64 // lengths below this are rounding, mm
	min        geom.Point
	cell       float64
	cols, rows int
	first      []int32 // cell c holds items[first[c]:first[c+1]]
	items      []int32
	sites      []site
}

func newField(walls []wall, box geom.Rect) *field {
	w, h := box.Width(), box.Height()
	f := &field{walls: walls, size: max(w, h), min: box.Min, sites: make([]site, len(walls))}
	f.hair = 1e-10 * f.size
	f.cell = max(math.Sqrt(w*h/float64(len(walls)+1))*0.7, f.size/512)
	f.cols, f.rows = int(w/f.cell)+1, int(h/f.cell)+1
	for i := range walls {
		f.sites[i].a = walls[i].a
		if !walls[i].point {
			f.sites[i].n = walls[i].n
		}
	}
	count := make([]int32, f.cols*f.rows+1)
	for i := range walls {
		f.eachCell(&walls[i], func(c int) { count[c+1]++ })
	}
	for c := 1; c < len(count); c++ {
		count[c] += count[c-1]
	}
	f.first = count
	f.items = make([]int32, count[len(count)-1])
	fill := make([]int32, len(count)-1)
	for i := range walls {
		f.eachCell(&walls[i], func(c int) {
			f.items[f.first[c]+fill[c]] = int32(i)
			fill[c]++
		})
	}
	return f
}

func (f *field) col(x float64) int { return min(max(int((x-f.min.X)/f.cell), 0), f.cols-1) }
func (f *field) row(y float64) int { return min(max(int((y-f.min.Y)/f.cell), 0), f.rows-1) }

// eachCell calls g with every cell the wall may pass through, row by row.
func (f *field) eachCell(w *wall, g func(cell int)) {
	a, b := w.a, w.a
	if !w.point {
		b = a.Add(w.u.Mul(w.span))
	}
	if a.Y > b.Y {
		a, b = b, a
	}
	r0, r1 := f.row(a.Y), f.row(b.Y)
	for r := r0; r <= r1; r++ {
		x0, x1 := a.X, b.X
		if r1 > r0 && b.Y > a.Y {
			lo, hi := f.min.Y+float64(r)*f.cell-f.cell*1e-6, f.min.Y+float64(r+1)*f.cell+f.cell*1e-6
			k := (b.X - a.X) / (b.Y - a.Y)
			if r > r0 {
				x0 = a.X + (lo-a.Y)*k
			}
			if r < r1 {
				x1 = a.X + (hi-a.Y)*k
			}
		}
		c0, c1 := f.col(min(x0, x1)), f.col(max(x0, x1))
		for c := c0; c <= c1; c++ {
			g(r*f.cols + c)
		}
	}
}

// limit returns the wall that limits the disc at place t of wall e, and its
// radius. hint, if not negative, is a wall likely to be the answer.
func (f *field) limit(e int32, t float64, hint int32) (j int32, r float64) {
	p, n := f.walls[e].place(t)
	j, r = -1, math.Inf(1)
	if hint >= 0 {
		if r = f.radius(e, t, p, n, hint); !math.IsInf(r, 1) {
			j = hint
		}
	}
	w := &f.walls[e]
	for _, k := range [2]int32{w.next, w.prev} { // near a convex corner the neighbour decides
		if s := f.radius(e, t, p, n, k); s < r {
			j, r = k, s
		}
	}
	if r <= 0 { // in a corner
		return j, r
	}
	try := f.cell
	for {
		if try >= r {
			return f.limitWithin(e, t, p, n, j, r)
		}
		if k, s := f.limitWithin(e, t, p, n, -1, try); k >= 0 {
			return k, s
		}
		if try > 4*f.size {
			if f.hair > 1e-7*f.size {
				return j, r
			}
			defer func(h float64) { f.hair = h }(f.hair) // every wall was just missed: look again with more leeway
			f.hair *= 1e3
			try = f.cell
			continue
		}
		try *= 2
	}
}

// limitWithin looks for walls that limit the disc to less than r, which wall
// j does. All walls that could are met by the disc's box.
func (f *field) limitWithin(e int32, t float64, p geom.Point, n geom.Vec, j int32, r float64) (int32, float64) {
	cx, cy := p.X+n.X*r, p.Y+n.Y*r
	c0, c1 := f.col(cx-r), f.col(cx+r)
	r0, r1 := f.row(cy-r), f.row(cy+r)
	for row := r0; row <= r1; row++ {
		// Cells of one row lie one after the other; a wall may come up in several.
		for _, k := range f.items[f.first[row*f.cols+c0]:f.first[row*f.cols+c1+1]] {
			if f.sites[k].spares(p, n, r) {
				continue
			}
			if s := f.radius(e, t, p, n, k); s < r {
				j, r = k, s
			}
		}
	}
	return j, r
}

// site is what of a wall tells at a glance that it limits no disc much: a
// point on it and its normal, which is zero for the point of a corner.
type site struct {
	a geom.Point
	n geom.Vec
}

// spares reports whether the disc of radius r that touches a wall at (p, n)
// surely does not reach s: field.radius without its division, and with a
// little left over for rounding.
func (s *site) spares(p geom.Point, n geom.Vec, r float64) bool {
	const over = 1 + 1e-9
	dx, dy := p.X-s.a.X, p.Y-s.a.Y
	if s.n == (geom.Vec{}) {
		return float64(dx*dx)+float64(dy*dy) > -2*over*r*(float64(n.X*dx)+float64(n.Y*dy))
	}
	mx, my := n.X-s.n.X, n.Y-s.n.Y
	h := float64(dx*s.n.X) + float64(dy*s.n.Y) // as radius has it
	return h < 0 || 2*h > over*r*(float64(mx*mx)+float64(my*my))
}
