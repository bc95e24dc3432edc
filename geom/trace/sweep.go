package trace

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/region"
)

// raster is a grid of cells over the shape, for measuring areas.
type raster struct {
	min        geom.Point
	cell       float64
	cols, rows int
	ink, pen   []bool
}

// sweep sweeps a pen of the local width along the strokes and compares its
// area with the ink, on cells of a sixth of a half-width (at most 1e6 cells).
func (t *tracer) sweep() {
	box := t.reg.Bounds().Grown(2 * t.w)
	if box.IsEmpty() || t.w <= 0 {
		return
	}
	r := raster{min: box.Min, cell: max(t.w/6, math.Sqrt(box.Width()*box.Height()/2e5))}
	r.cols, r.rows = int(box.Width()/r.cell)+1, int(box.Height()/r.cell)+1
	r.ink, r.pen = make([]bool, r.cols*r.rows), make([]bool, r.cols*r.rows)
	for _, l := range t.reg.Loops {
		r.fill(l, r.ink)
	}
	for i := range t.res.Strokes {
		if s := &t.res.Strokes[i]; s.Dot {
			t.dotInk(&r, s.Path.Start())
		} else {
			r.stroke(s, max(0.6*t.w, r.cell))
		}
	}
	var ink, both, spill int
	for i := range r.ink {
		switch {
		case r.ink[i] && r.pen[i]:
			ink++
			both++
		case r.ink[i]:
			ink++
		case r.pen[i]:
			spill++
		}
	}
	if ink > 0 {
		t.res.Coverage, t.res.Spill = float64(both)/float64(ink), float64(spill)/float64(ink)
		t.noteSweep()
	}
}

// The sweep of a good trace covers at least leastCover of the ink and puts at
// most mostSpill of it outside.
const (
	leastCover = 0.97
	mostSpill  = 0.03
)

// noteSweep says so where the strokes do not give the ink back.
func (t *tracer) noteSweep() {
	n := Note{Kind: Imprecise, At: t.reg.Bounds().Centre()}
	switch r := t.res; {
	case r.Coverage < leastCover:
		n.Value, n.Limit, n.Explanation = r.Coverage, leastCover, "the strokes leave more of the ink uncovered than they should: it is wider in places than one line can be"
	case r.Spill > mostSpill:
		n.Value, n.Limit, n.Explanation = r.Spill, mostSpill, "the strokes, drawn with the pen's width, go out of the ink more than they should"
	default:
		return
	}
	t.res.Notes = append(t.res.Notes, n)
}

// dotInk counts the piece of ink about p as covered: a dot stands for it.
func (t *tracer) dotInk(r *raster, p geom.Point) {
	var best []geom.Point
	least := math.Inf(1)
	for _, l := range t.reg.Loops {
		one := region.Region{Loops: [][]geom.Point{l}}
		if a := one.Area(); a > 0 && a < least && one.Contains(p) {
			best, least = l, a
		}
	}
	if best != nil {
		r.fill(best, r.pen)
	}
}

// fill flips the cells whose middle lies inside the loop.
func (r *raster) fill(l []geom.Point, cells []bool) {
	for i, a := range l {
		b := l[(i+1)%len(l)]
		if a.Y > b.Y {
			a, b = b, a
		}
		y0 := int(math.Ceil((a.Y-r.min.Y)/r.cell - 0.5))
		for y := max(y0, 0); y < r.rows; y++ {
			cy := r.min.Y + (float64(y)+0.5)*r.cell
			if cy >= b.Y {
				break
			}
			if cy < a.Y {
				continue
			}
			x := a.X + (cy-a.Y)/(b.Y-a.Y)*(b.X-a.X)
			from := max(int(math.Ceil((x-r.min.X)/r.cell-0.5)), 0)
			row := cells[y*r.cols : (y+1)*r.cols]
			for k := from; k < r.cols; k++ {
				row[k] = !row[k]
			}
		}
	}
}

// stroke marks the cells the pen passes over. A flat end cuts the pen off.
func (r *raster) stroke(s *Stroke, step float64) {
	pts := s.Path.Samples(step)
	way := 0.0
	var cuts []cut
	for k, e := range s.Ends {
		if e.Kind == EndFlat || e.Kind == EndSlanted {
			c := cut{s.Path.Start(), s.Path.StartDir().Neg(), 2 * e.Radius}
			if k == 1 {
				c.at, c.out = s.Path.End(), s.Path.EndDir()
			}
			cuts = append(cuts, c)
		}
	}
	for i := 0; i+1 < len(pts); i++ {
		n := pts[i].Dist(pts[i+1])
		r.capsule(pts[i], pts[i+1], s.HalfWidth(way), s.HalfWidth(way+n), cuts)
		way += n
	}
}

// cut is a flat end: the pen leaves nothing beyond it.
type cut struct {
	at    geom.Point
	out   geom.Vec
	reach float64
}

func (c cut) beyond(p geom.Point) bool {
	v := p.Sub(c.at)
	return v.Dot(c.out) > 0 && v.Norm() < c.reach
}

// capsule marks a straight stretch of pen whose half-width goes from ra to rb.
func (r *raster) capsule(a, b geom.Point, ra, rb float64, cuts []cut) {
	d := b.Sub(a)
	n := d.Norm()
	if n == 0 {
		return
	}
	m := max(ra, rb)
	x0, x1 := int((min(a.X, b.X)-m-r.min.X)/r.cell), int((max(a.X, b.X)+m-r.min.X)/r.cell)
	y0, y1 := int((min(a.Y, b.Y)-m-r.min.Y)/r.cell), int((max(a.Y, b.Y)+m-r.min.Y)/r.cell)
	for y := max(y0, 0); y <= min(y1, r.rows-1); y++ {
		for x := max(x0, 0); x <= min(x1, r.cols-1); x++ {
			if r.pen[y*r.cols+x] { // most cells: the stretch before has been there
				continue
			}
			p := geom.Point{X: r.min.X + (float64(x)+0.5)*r.cell, Y: r.min.Y + (float64(y)+0.5)*r.cell}
			s := clamp(p.Sub(a).Dot(d)/(n*n), 0, 1)
			half, v := ra+(rb-ra)*s, p.Sub(a.Lerp(b, s))
			if v.Dot(v) > half*half {
				continue
			}
			hidden := false
			for _, c := range cuts {
				hidden = hidden || c.beyond(p)
			}
			r.pen[y*r.cols+x] = !hidden
		}
	}
}
