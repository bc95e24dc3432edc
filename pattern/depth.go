package pattern

import (
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// Depth is how far a unit reaches behind the face, its legs left out: what its
// supports must make room for.
type Depth struct {
	Planes  int     // hidden planes in use: depths at which hidden glass runs level
	Deepest float64 // of any glass but legs, from the face to its centre, mm
}

// surfaceGap is what glass keeps from any surface but its supports, mm (P,
// S33g).
const surfaceGap = 6.0

// SupportHeight is how high the centre of the front glass must stand over the
// wall: the gap to the wall, half a tube, and the depth of the deepest centre
// behind it (trade 2.6, D). The face stands half a tube further out.
func (d Depth) SupportHeight(diameter float64) float64 { return surfaceGap + diameter/2 + d.Deepest }

// DepthOf measures a tube: the Depth of the unit that it is.
func DepthOf(t tube.Tube) Depth {
	var d Depth
	var planes []float64
	for _, p := range t {
		if p.Role == tube.Leg {
			continue
		}
		a, b := p.Seg.Start().Z, p.Seg.End().Z
		d.Deepest = max(d.Deepest, -a, -b)
		if _, line := p.Seg.(geom.Line3); line && p.Role == tube.Hidden && math.Abs(a-b) < 1e-6 &&
			!slices.ContainsFunc(planes, func(z float64) bool { return math.Abs(z-a) < 0.5 }) {
			planes = append(planes, a)
		}
	}
	d.Planes = len(planes)
	return d
}

// Sides of an electrode's tubulation, as the sign is read.
const (
	Left  = "left"
	Right = "right"
	Up    = "up"
	Down  = "down"
)

// tubulate chooses for every unit the end that carries the pumping tubulation,
// and the side it points to: where the most room is from the legs of other
// ends (common practice, no source: the manifold's hose needs room). Of equals,
// the first end and the side away from the middle of the sign.
func tubulate(units []Unit) {
	var all []geom.Point3 // what stands in the way: the electrodes
	box := geom.EmptyRect()
	for _, u := range units {
		for _, e := range u.Electrodes {
			all = append(all, e.At)
			box = box.Including(e.At.Plan())
		}
	}
	for i := range units {
		best, bestEnd, bestSide := math.Inf(-1), 0, Down
		for k, e := range units[i].Electrodes {
			for _, s := range sides(e.At.Plan().Sub(box.Centre())) {
				if r := room(all, e.At, s.dir); r > best+1e-6 {
					best, bestEnd, bestSide = r, k, s.name
				}
			}
		}
		units[i].Electrodes[bestEnd].Tubulation = bestSide
	}
}

type side struct {
	name string
	dir  geom.Vec
}

// sides lists the four sides, the one that points furthest the given way first.
func sides(way geom.Vec) []side {
	out := []side{{Down, geom.Vec{Y: -1}}, {Up, geom.Vec{Y: 1}}, {Left, geom.Vec{X: -1}}, {Right, geom.Vec{X: 1}}}
	slices.SortStableFunc(out, func(a, b side) int { return sign(b.dir.Dot(way) - a.dir.Dot(way)) })
	return out
}

func sign(v float64) int {
	switch {
	case v > 1e-9:
		return 1
	case v < -1e-9:
		return -1
	}
	return 0
}

// freeRoom is more room than any tubulation needs, mm.
const freeRoom = 200.0

// room returns how far from at, that way, the nearest other end stands, within
// 30 mm beside the way; at most freeRoom.
func room(all []geom.Point3, at geom.Point3, dir geom.Vec) float64 {
	const beside = 30
	r := freeRoom
	for _, q := range all {
		v := q.Plan().Sub(at.Plan())
		if along := v.Dot(dir); along > 1e-6 && math.Abs(v.Cross(dir)) < beside {
			r = min(r, along)
		}
	}
	return r
}
