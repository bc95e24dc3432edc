package region

import (
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
)

// Region is a filled shape bounded by simple loops that neither cross nor
// touch. Every loop has the ink on its left; the last point joins the first.
type Region struct {
	Loops [][]geom.Point
}

// MaxPoints is the most loop points a Region may have. A glyph has hundreds;
// the bound keeps damaged or hostile input from eating the machine.
const MaxPoints = 200_000

// FromOutline flattens o with the given tolerance (mm) and cleans it.
func FromOutline(o geom.Outline, tol float64) (Region, error) {
	return FromLoops(Flatten(o, tol), tol)
}

// Union returns the ink of several outlines together.
func Union(outlines []geom.Outline, tol float64) (Region, error) {
	var loops [][]geom.Point
	for _, o := range outlines {
		loops = append(loops, Flatten(o, tol)...)
	}
	return FromLoops(loops, tol)
}

// FromLoops makes a Region of loops in any order and direction, which may
// cross, touch, overlap or repeat. Inside is where the winding number is not
// zero. Points closer than tol/20 are merged, loops thinner than tol vanish. Coordinates that
// are not finite, or more than MaxPoints of them, are an error.
func FromLoops(loops [][]geom.Point, tol float64) (Region, error) {
	total := 0
	for i, l := range loops {
		total += len(l)
		for _, p := range l {
			if !(math.Abs(p.X) < 1e12 && math.Abs(p.Y) < 1e12) {
				return Region{}, fmt.Errorf("contour %d has the point (%g, %g): coordinates must be finite and below 1e12 mm", i, p.X, p.Y)
			}
		}
	}
	if total > MaxPoints {
		return Region{}, fmt.Errorf("outline of %d points after flattening, the limit is %d: simplify the artwork or raise the tolerance", total, MaxPoints)
	}
	if !(tol > 0) {
		return Region{}, fmt.Errorf("flattening tolerance of %g mm: it must be more than 0", tol)
	}
	clean := cleanLoops(loops, tol)
	if !crossing(clean, tol*1e-3) {
		return Region{Loops: byWinding(withoutThin(clean, tol))}, nil
	}
	settled, err := settle(clean)
	if err != nil {
		return Region{}, err
	}
	return Region{Loops: separate(withoutThin(cleanLoops(settled, tol), tol), tol)}, nil
}

// cleanLoops drops repeated points, spikes, points on a straight, and loops of
// which nothing is left.
func cleanLoops(loops [][]geom.Point, tol float64) [][]geom.Point {
	var out [][]geom.Point
	for _, l := range loops {
		l = cleanLoop(l, tol/20)
		if len(l) < 3 {
			continue
		}
		out = append(out, l)
	}
	return out
}

// withoutThin drops simple loops with hardly any area.
func withoutThin(loops [][]geom.Point, tol float64) [][]geom.Point {
	return slices.DeleteFunc(loops, func(l []geom.Point) bool {
		return math.Abs(area(l)) < tol*perimeter(l)/2
	})
}

// cleanLoop removes, until none is left, points that lie within near of their
// predecessor or of the straight between their neighbours, and turn-backs.
func cleanLoop(l []geom.Point, near float64) []geom.Point {
	out := make([]geom.Point, 0, len(l))
	for _, p := range l {
		for {
			n := len(out)
			if n > 0 && out[n-1].Dist(p) <= near {
				out = out[:n-1]
				continue
			}
			if n > 1 && needless(out[n-2], out[n-1], p, near) {
				out = out[:n-1]
				continue
			}
			break
		}
		out = append(out, p)
	}
	for len(out) >= 3 {
		n := len(out)
		switch {
		case out[n-1].Dist(out[0]) <= near, needless(out[n-2], out[n-1], out[0], near):
			out = out[:n-1]
		case needless(out[n-1], out[0], out[1], near):
			out = out[1:]
		default:
			return out
		}
	}
	return nil
}

// needless reports whether q adds nothing between p and r: it lies on their
// straight, or it is the tip of a spike without width.
func needless(p, q, r geom.Point, near float64) bool {
	a, b := q.Sub(p), r.Sub(q)
	na, nb := a.Norm(), b.Norm()
	if na == 0 || nb == 0 {
		return true
	}
	width := math.Abs(a.Cross(b))
	if a.Dot(b) < 0 {
		return width <= near*min(na, nb)*0.1
	}
	return width <= 0.02*near*(na+nb)
}

func area(l []geom.Point) float64 {
	var s float64
	o := l[0]
	for i := 1; i+1 < len(l); i++ {
		s += l[i].Sub(o).Cross(l[i+1].Sub(o))
	}
	return s / 2
}

func perimeter(l []geom.Point) float64 {
	var s float64
	for i := range l {
		s += l[i].Dist(l[(i+1)%len(l)])
	}
	return s
}

// byWinding keeps, of loops that do not cross, those that separate ink from
// paper, and gives them the ink on the left.
func byWinding(loops [][]geom.Point) [][]geom.Point {
	var out [][]geom.Point
	for i, l := range loops {
		outside := 0
		for j, m := range loops {
			if j != i && inLoop(m, l[0]) {
				outside += turn(m)
			}
		}
		inside := outside + turn(l)
		switch {
		case outside == 0 && inside != 0:
			out = append(out, directed(l, true))
		case outside != 0 && inside == 0:
			out = append(out, directed(l, false))
		}
	}
	return out
}

func turn(l []geom.Point) int {
	if area(l) > 0 {
		return 1
	}
	return -1
}

func directed(l []geom.Point, ccw bool) []geom.Point {
	if (area(l) > 0) == ccw {
		return l
	}
	r := make([]geom.Point, len(l))
	for i, p := range l {
		r[len(l)-1-i] = p
	}
	return r
}

// inLoop reports whether p is inside l, by counting crossings of a ray.
func inLoop(l []geom.Point, p geom.Point) bool {
	in := false
	for i, a := range l {
		b := l[(i+1)%len(l)]
		if (a.Y > p.Y) != (b.Y > p.Y) && a.X+(p.Y-a.Y)/(b.Y-a.Y)*(b.X-a.X) > p.X {
			in = !in
		}
	}
	return in
}

// Contains reports whether p is in the ink.
func (r Region) Contains(p geom.Point) bool {
	in := false
	for _, l := range r.Loops {
		if inLoop(l, p) {
			in = !in
		}
	}
	return in
}

// Area returns the area of the ink in mm².
func (r Region) Area() float64 {
	var s float64
	for _, l := range r.Loops {
		s += area(l)
	}
	return s
}

// Bounds returns the least box that holds the ink.
func (r Region) Bounds() geom.Rect {
	b := geom.EmptyRect()
	for _, l := range r.Loops {
		for _, p := range l {
			b = b.Including(p)
		}
	}
	return b
}

// Distance returns how far p is from the nearest wall: positive in the ink,
// negative on the paper.
func (r Region) Distance(p geom.Point) float64 {
	d := math.Inf(1)
	for _, l := range r.Loops {
		for i, a := range l {
			d = min(d, segmentDistance(a, l[(i+1)%len(l)], p))
		}
	}
	if r.Contains(p) {
		return d
	}
	return -d
}

func segmentDistance(a, b, p geom.Point) float64 {
	u, v := b.Sub(a), p.Sub(a)
	t := v.Dot(u) / u.Dot(u)
	if !(t > 0) {
		return p.Dist(a)
	}
	return p.Dist(a.Lerp(b, min(t, 1)))
}

// Pieces returns how many separate pieces of ink there are, and how many holes.
func (r Region) Pieces() (outer, holes int) {
	for _, l := range r.Loops {
		if area(l) > 0 {
			outer++
		} else {
			holes++
		}
	}
	return outer, holes
}
