package pattern

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// edgesOf returns the two edges of a strip, D/2 to each side of its line, with a
// half circle at each round end, as paths in order: left edge, end, right edge,
// start.
func edgesOf(s strip, d float64) []geom.Path {
	var out []geom.Path
	for _, side := range [2]float64{d / 2, -d / 2} {
		out = append(out, offset(s.path, side)...)
	}
	if s.round[1] {
		out = append(out, halfCircle(s.path.End(), s.path.EndDir(), d/2))
	}
	if s.round[0] {
		out = append(out, halfCircle(s.path.Start(), s.path.StartDir().Neg(), d/2))
	}
	return trimmed(out, s.path, d)
}

// offset returns the path moved left by side (right where negative), in one path
// for each unbroken stretch. An arc tighter than the offset leaves a gap on its
// inner side: the tube covers that itself.
func offset(p geom.Path, side float64) []geom.Path {
	var out []geom.Path
	var run geom.Path
	flush := func() {
		if len(run.Segments) > 0 {
			out = append(out, run)
		}
		run = geom.Path{}
	}
	for _, s := range p.Segments {
		switch s := s.(type) {
		case geom.Line:
			n := s.DirAt(0).Left().Mul(side)
			run.Segments = append(run.Segments, geom.Line{A: s.A.Add(n), B: s.B.Add(n)})
		case geom.Arc:
			r := s.Radius - math.Copysign(side, side*float64(s.Sweep))
			if r < 0.05 {
				flush()
				continue
			}
			s.Radius = r
			run.Segments = append(run.Segments, s)
		}
	}
	flush()
	return out
}

// halfCircle closes a tube that ends at p, having travelled along d: from the
// right edge to the left one.
func halfCircle(p geom.Point, d geom.Vec, r float64) geom.Path {
	return geom.Path{Segments: []geom.Segment{geom.Arc{Centre: p, Radius: r, From: d.Left().Neg().Heading(), Sweep: 180 * geom.Degree}}}
}

// trimmed cuts away what of a strip's edges lies inside the strip itself, near by
// along it: the inner side of a bend seen steeply.
func trimmed(edges []geom.Path, line geom.Path, d float64) []geom.Path {
	tight := false
	for _, s := range line.Segments {
		if a, ok := s.(geom.Arc); ok && a.Radius < 0.75*d {
			tight = true
		}
	}
	if !tight {
		return edges
	}
	return cutWhere(edges, func(q geom.Point) bool {
		_, dist := line.Nearest(q)
		return dist < d/2-0.03
	})
}

// cutWhere removes the parts of paths where gone holds, found to 0.01 mm by
// steps of half a millimetre.
func cutWhere(paths []geom.Path, gone func(geom.Point) bool) []geom.Path {
	const step = 0.5
	var out []geom.Path
	for _, p := range paths {
		n := max(2, int(math.Ceil(p.Length()/step)))
		at := func(k int) float64 { return p.Length() * float64(k) / float64(n) }
		from, inside := 0.0, !gone(p.PointAt(0))
		whole := inside
		for k := 1; k <= n; k++ {
			if gone(p.PointAt(at(k))) != inside {
				continue
			}
			whole = false
			edge := bisect(p, at(k-1), at(k), gone)
			if inside {
				out = appendCut(out, p, from, edge)
			}
			from, inside = edge, !inside
		}
		switch {
		case whole:
			out = append(out, p)
		case inside:
			out = appendCut(out, p, from, p.Length())
		}
	}
	return out
}

func appendCut(out []geom.Path, p geom.Path, a, b float64) []geom.Path {
	if c := p.Cut(a, b); len(c.Segments) > 0 {
		out = append(out, c)
	}
	return out
}

// bisect returns where gone changes between distances a and b.
func bisect(p geom.Path, a, b float64, gone func(geom.Point) bool) float64 {
	start := gone(p.PointAt(a))
	for b-a > 0.01 {
		m := (a + b) / 2
		if gone(p.PointAt(m)) == start {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}

// A gap is where a stretch of the strand beneath is left out at a crossing: all
// that is nearer than Off to the strand above.
type gap struct {
	at         geom.Point // the crossing
	reach, off float64
	over       []geom.Point
}

func (g gap) holds(q geom.Point) bool {
	for i := 1; i < len(g.over); i++ {
		l := geom.Line{A: g.over[i-1], B: g.over[i]}
		if l.PointAt(l.Nearest(q)).Dist(q) < g.off {
			return true
		}
	}
	return false
}

// reach is how far along either strand a crossing is felt.
func (c crossing) reach(d float64) float64 { return 1.3 * d / c.sine }

// gapAt returns the gap that a crossing leaves in the strand beneath.
func gapAt(c crossing, over []sample, d float64) gap {
	g := gap{at: c.at, reach: c.reach(d), off: d/2 + max(0.8, 0.1*d)}
	for _, s := range over {
		if math.Abs(s.at-c.over.at) < c.reach(d)+2*d {
			g.over = append(g.over, s.p)
		}
	}
	return g
}

// A part is a stretch of a strip with the gaps that interrupt it.
type part struct {
	strip
	gaps []gap
}

// parts cuts a strip where crossings pass over it. Only the stretch about a
// crossing gets its gap: elsewhere the same strip may be the one above.
func (d *drawing) parts(s strip, counts func(crossing) bool) []part {
	type window struct {
		from, to float64
		gap      gap
	}
	var ws []window
	for _, c := range d.crossings {
		if c.under.unit != s.unit || !counts(c) {
			continue
		}
		if at, ok := s.find(c.under.piece, c.at); ok {
			r := c.reach(d.d)
			ws = append(ws, window{max(at-r, 0), min(at+r, s.path.Length()), gapAt(c, d.samples[c.over.unit], d.d)})
		}
	}
	slices.SortFunc(ws, func(a, b window) int { return cmp.Compare(a.from, b.from) })
	var out []part
	pos := 0.0
	for i := 0; i < len(ws); {
		p := part{gaps: []gap{ws[i].gap}}
		from, to := ws[i].from, ws[i].to
		for i++; i < len(ws) && ws[i].from < to; i++ { // windows that touch are one part
			to = max(to, ws[i].to)
			p.gaps = append(p.gaps, ws[i].gap)
		}
		if from > pos {
			out = append(out, part{strip: s.cut(pos, from)})
		}
		p.strip = s.cut(from, to)
		out = append(out, p)
		pos = to
	}
	if len(ws) == 0 {
		return []part{{strip: s}}
	}
	if pos < s.path.Length() {
		out = append(out, part{strip: s.cut(pos, s.path.Length())})
	}
	return out
}

// hatchOf returns the strokes that mark a strip as painted out: parallel lines
// at 45 degrees to the sheet, rising or falling, whichever runs more across the
// strip, cut off at its edges and ends. The lines of all strips lie on one grid.
func hatchOf(s strip, d float64) []geom.Path {
	pitch := max(1.6, 0.25*d)
	rising := geom.UnitAt(45 * geom.Degree)
	u := rising
	if across(s.path, rising.Left()) > across(s.path, rising) {
		u = rising.Left()
	}
	var out []geom.Path
	for _, g := range s.path.Segments {
		line := geom.Path{Segments: []geom.Segment{g}}
		box := line.Bounds().Grown(d / 2)
		outside := func(q geom.Point) bool {
			t := g.Nearest(q)
			return t <= 0 || t >= g.Length() || g.PointAt(t).Dist(q) > d/2
		}
		low, high := reach(box, u.Left())
		from, to := reach(box, u)
		for k := math.Ceil(low / pitch); k*pitch <= high; k++ {
			o := geom.Point{}.Add(u.Left().Mul(k * pitch))
			stroke := sheet.Polyline(o.Add(u.Mul(from)), o.Add(u.Mul(to)))
			out = append(out, cutWhere([]geom.Path{stroke}, outside)...)
		}
	}
	return out
}

// across returns how much of a path runs square to a direction, mm.
func across(p geom.Path, u geom.Vec) float64 {
	n := 0.0
	for _, s := range p.Segments {
		for k := range 4 {
			at := s.Length() * (float64(k) + 0.5) / 4
			n += math.Abs(s.DirAt(at).Cross(u)) * s.Length() / 4
		}
	}
	return n
}

// reach returns the least and greatest extent of a box along u.
func reach(r geom.Rect, u geom.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, c := range [4]geom.Point{r.Min, r.Max, {X: r.Min.X, Y: r.Max.Y}, {X: r.Max.X, Y: r.Min.Y}} {
		v := c.Sub(geom.Point{}).Dot(u)
		low, high = min(low, v), max(high, v)
	}
	return low, high
}
