package condition

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/fit"
)

// stretch is a part of a path, from and to mm along it.
type stretch struct {
	from, to float64
	radius   float64 // tightest drawn in it; 0 a corner
}

// opened replaces what is tighter than the least radius, and corners that got
// no bend, by the nearest curve that is not. Only a window about each place
// changes: its ends stay, with their directions.
func (w *worker) opened(p geom.Path) geom.Path {
	tight := w.tight(p)
	if len(tight) == 0 {
		return p
	}
	if p.Closed {
		var easy float64
		if p, tight, easy = w.startedInEasy(p, tight); easy < 2*w.lim.MinRadius {
			return w.asWhole()
		}
	}
	for i := len(tight) - 1; i >= 0; i-- { // from the end: places before it stay put
		lo, hi := 0.0, p.Length()
		if i > 0 {
			lo = (tight[i-1].to + tight[i].from) / 2
		}
		if i < len(tight)-1 {
			hi = min(hi, (tight[i].to+tight[i+1].from)/2)
		}
		p = w.open(p, tight[i], lo, hi)
	}
	return p
}

// tight returns the stretches that cannot be bent as they are, near ones
// together: their windows would overlap.
func (w *worker) tight(p geom.Path) []stretch {
	least := w.lim.MinRadius
	var out []stretch
	add := func(s stretch) {
		if n := len(out); n > 0 && s.from-out[n-1].to < least {
			out[n-1].to = s.to
			out[n-1].radius = min(out[n-1].radius, s.radius)
			return
		}
		out = append(out, s)
	}
	at := 0.0
	n := len(p.Segments)
	for i, g := range p.Segments {
		if i > 0 || p.Closed {
			if turnAt(p.Segments[(i+n-1)%n], g) > 2*straightOn {
				add(stretch{at, at, 0})
			}
		}
		if a, ok := g.(geom.Arc); ok && a.Radius < least*(1-1e-9) {
			add(stretch{at, at + a.Length(), a.Radius})
		}
		at += g.Length()
	}
	return out
}

// startedInEasy returns a closed path started in the middle of its longest
// stretch without a tight place, and the length of that.
func (w *worker) startedInEasy(p geom.Path, tight []stretch) (geom.Path, []stretch, float64) {
	total := p.Length()
	best, at := 0.0, 0.0
	for i, s := range tight {
		next := tight[(i+1)%len(tight)].from
		if i == len(tight)-1 {
			next += total
		}
		if next-s.to > best {
			best, at = next-s.to, (next+s.to)/2
		}
	}
	at = math.Mod(at, total)
	q := geom.Path{Closed: true}
	q.Segments = slices.Concat(p.Cut(at, total).Segments, p.Cut(0, at).Segments)
	return q, w.tight(q), best
}

// windows are how far, in least radii, a window reaches beyond its tight
// stretch: the more room, the less the curve has to leave the drawing.
var windows = [...]float64{1.5, 3, 5, 8}

// openEnough is the deviation in tube diameters at which the search for a
// better window ends, and under which a widened curve is not worth a word.
const openEnough = 0.1

// open replaces one tight stretch within places lo and hi.
func (w *worker) open(p geom.Path, s stretch, lo, hi float64) geom.Path {
	var best geom.Path
	bestDev := math.Inf(1)
	total := p.Length()
	for _, k := range windows {
		a, b := max(lo, s.from-k*w.lim.MinRadius), min(hi, s.to+k*w.lim.MinRadius)
		if a < w.lim.MinRadius/2 && !p.Closed {
			a = 0
		}
		if b > total-w.lim.MinRadius/2 && !p.Closed {
			b = total
		}
		o := fit.Options{Tol: openTol * w.lim.Diameter, MinRadius: w.lim.MinRadius}
		if a > 0 || p.Closed {
			o.StartDir = p.DirAt(a)
		}
		if b < total || p.Closed {
			o.EndDir = p.DirAt(b)
		}
		r, err := fit.Curve(p.Cut(a, b).Samples(w.lim.Diameter/10), o)
		if err != nil || turning(r.Path) > turning(p.Cut(a, b))+math.Pi {
			continue // a loop is no likeness
		}
		if r.Deviation < 0.8*bestDev {
			bestDev = r.Deviation
			best = geom.Path{Closed: p.Closed}
			best.Segments = slices.Concat(p.Cut(0, a).Segments, r.Path.Segments, p.Cut(b, total).Segments)
		}
		if bestDev < openEnough*w.lim.Diameter || a == lo && b == hi {
			break
		}
	}
	if math.IsInf(bestDev, 1) {
		return p
	}
	if s.radius > 0 && bestDev > openEnough*w.lim.Diameter {
		w.note(p.PointAt((s.from+s.to)/2), CurveTight, w.lim.MinRadius, s.radius)
	}
	return best
}

// turning returns the sum of all turns, at corners too, without their signs.
func turning(p geom.Path) float64 {
	var sum float64
	for i, g := range p.Segments {
		sum += math.Abs(g.Curvature()) * g.Length()
		if i > 0 {
			sum += turnAt(p.Segments[i-1], g)
		}
	}
	return sum
}
