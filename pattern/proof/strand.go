package proof

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// patch is how one run covers the picture: for each pixel of a rectangle, the
// distance from its centreline in the picture, in pixels.
type patch struct {
	x0, y0, w, h int
	dist         []float32
}

// patchOf measures a polyline in pixels, as far as reach pixels from it.
func patchOf(pts []geom.Point, reach float64, w, h int) patch {
	b := geom.Rect{Min: pts[0], Max: pts[0]}
	for _, p := range pts {
		b = b.Including(p)
	}
	b = b.Grown(reach + 1)
	clip := func(v float64, most int) int { return int(min(max(math.Floor(v), 0), float64(most))) }
	p := patch{x0: clip(b.Min.X, w), y0: clip(b.Min.Y, h)}
	p.w, p.h = clip(b.Max.X+1, w)-p.x0, clip(b.Max.Y+1, h)-p.y0
	p.dist = make([]float32, max(0, p.w*p.h))
	for i := range p.dist {
		p.dist[i] = math.MaxFloat32
	}
	for i := range pts {
		p.capsule(pts[max(0, i-1)], pts[i], reach)
	}
	for i, d := range p.dist {
		if d < math.MaxFloat32 {
			p.dist[i] = float32(math.Sqrt(float64(d)))
		}
	}
	return p
}

// capsule lowers the squared distances to those from ab.
func (p patch) capsule(a, b geom.Point, reach float64) {
	d := b.Sub(a)
	dd := d.Dot(d)
	x0 := max(p.x0, int(min(a.X, b.X)-reach))
	x1 := min(p.x0+p.w-1, int(max(a.X, b.X)+reach)+1)
	y0 := max(p.y0, int(min(a.Y, b.Y)-reach))
	y1 := min(p.y0+p.h-1, int(max(a.Y, b.Y)+reach)+1)
	for y := y0; y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			v := geom.Point{X: float64(x) + 0.5, Y: float64(y) + 0.5}.Sub(a)
			if dd > 0 {
				t := min(max(v.Dot(d)/dd, 0), 1)
				v = v.Sub(d.Mul(t))
			}
			i := (y-p.y0)*p.w + x - p.x0
			p.dist[i] = min(p.dist[i], float32(v.Dot(v)))
		}
	}
}

// each calls f for every pixel within the radius, with the share of it that is
// covered and the place across the tube, 0 in the middle and 1 at the edge.
func (p patch) each(radius float64, picWidth int, f func(pixel int, cover, across float32)) {
	for y := range p.h {
		for x := range p.w {
			d := float64(p.dist[y*p.w+x])
			cover := min(1, radius-d+0.5)
			if cover <= 0 {
				continue
			}
			// Tubes thinner than a pixel cover no more than their width.
			cover = min(cover, 2*radius)
			f((y+p.y0)*picWidth+x+p.x0, float32(cover), float32(min(d/max(radius, 0.5), 1)))
		}
	}
}

// drawn is a run with its patch.
type drawn struct {
	*run
	patch
}

// strands returns all runs, the deepest first.
func (s *Scene) strands() []drawn {
	w, h := s.Size()
	var out []drawn
	for _, r := range s.byDepth() {
		pts := make([]geom.Point, len(r.pts))
		for k, p := range r.pts {
			pts[k].X, pts[k].Y = s.Pixel(p.Plan())
		}
		out = append(out, drawn{&r, patchOf(pts, s.diameter/2*s.scale()+1, w, h)})
	}
	return out
}

// byDepth returns the runs, the deepest first.
func (s *Scene) byDepth() []run {
	out := slices.Clone(s.runs)
	slices.SortStableFunc(out, func(a, b run) int { return cmp.Compare(a.z, b.z) })
	return out
}

// shine returns how bright glass of a role is by the place across the tube, 1 at most.
func shine(across float32, role tube.Role, coated bool) float32 {
	if role != tube.Lit {
		return 0
	}
	u := float64(across)
	thick := math.Sqrt(max(0, 1-float64(u*u)))
	if coated {
		return float32(0.42 + float64(0.58*thick)) // a glowing skin, in glass that swallows light at its edge
	}
	// A column of gas: as bright as it is deep along the line of sight, inside a wall
	// of glass that lights up faintly.
	return float32(0.22 + float64(0.78*math.Sqrt(max(0, 1-float64(u*u)/0.81))))
}
