package mount

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern"
)

// Options are the sizes of what is not in the pattern, mm; the zero value takes the
// defaults.
type Options struct {
	// Jacket is the outside diameter of an electrode's jacket; default 14, that of
	// small ones to 30 mA (M-low; table electrodes).
	Jacket float64
	// HousingGap is a housing hole over the jacket on each side; default 1.5 (M-low;
	// no maker's drawing read).
	HousingGap float64
	// KeepOut is what live ends keep from each other and from metal; default 38
	// (P, S32b).
	KeepOut float64
	// Surface is what tube keeps from all but its supports; default 6 (P, S33g).
	Surface float64
	// Spacing is the most between supports; default 450 (C). FromEnd is the most
	// from a support to an electrode, default 150 (M, NEC 600.41(B)).
	Spacing, FromEnd float64
}

func (o Options) settled() Options {
	for _, p := range []struct {
		field  *float64
		preset float64
	}{{&o.Jacket, 14}, {&o.HousingGap, 1.5}, {&o.KeepOut, 38}, {&o.Surface, 6}, {&o.Spacing, 450}, {&o.FromEnd, 150}} {
		if *p.field == 0 {
			*p.field = p.preset
		}
	}
	return o
}

// Hole is one hole to drill, in the front frame.
type Hole struct {
	Name     string // "U1 A"
	At       geom.Point
	Diameter float64
}

// Support is a place to hold a unit, in the front frame. Under is set where the glass
// there is not straight and level, as supports should have it, or is further from
// the next than allowed: no better place was found.
type Support struct {
	Name  string // "S3"
	Unit  string
	At    geom.Point
	Depth float64 // of the tube's centre behind the face
	Under bool
	along float64 // developed mm from A
}

// Holes returns the holes of all electrodes whose legs go back through the panel;
// aside names the ends whose legs do not.
func Holes(p pattern.Pattern, o Options) (holes []Hole, aside []string) {
	o = o.settled()
	for _, u := range p.Units {
		for _, e := range u.Electrodes {
			name := u.ID + " " + e.End
			if e.Direction.Z > -0.9 {
				aside = append(aside, name)
				continue
			}
			holes = append(holes, Hole{name, e.At.Plan(), o.Jacket + 2*o.HousingGap})
		}
	}
	return holes, aside
}

// Datum is where x and y of the table are 0: a whole number of millimetres left of
// and below all glass and holes.
func Datum(p pattern.Pattern) geom.Point {
	b := p.Bounds()
	return geom.Point{X: 10 * math.Floor((b.Min.X-20)/10), Y: 10 * math.Floor((b.Min.Y-20)/10)}
}

// Supports returns places to hold each unit: within FromEnd of each electrode, at
// most Spacing apart, on level straight or gently curved glass clear of heats
// and welds where there is any.
func Supports(p pattern.Pattern, o Options) []Support {
	o = o.settled()
	var out []Support
	for _, u := range p.Units {
		for _, s := range unitSupports(u, p.Spec.Rules.Diameter, o) {
			s.Name = fmt.Sprintf("S%d", len(out)+1)
			out = append(out, s)
		}
	}
	return out
}

// step is how finely places along a unit are looked at, mm.
const step = 5.0

// unitSupports walks along a unit: from the first place near electrode A, each time
// to the farthest good place within the spacing, to the last near electrode B.
func unitSupports(u pattern.Unit, d float64, o Options) []Support {
	long := u.Tube.Length()
	places := placesOf(u, d)
	find := func(from, to float64, last bool) (Support, bool) {
		best, found := Support{}, false
		for _, s := range places {
			if s.along < from-1e-9 || s.along > to+1e-9 {
				continue
			}
			if !found || best.Under && !s.Under || best.Under == s.Under && last {
				best, found = s, true
			}
		}
		return best, found
	}
	first, ok := find(0, o.FromEnd, true)
	if !ok {
		return nil
	}
	out := []Support{first}
	for at := first.along; long-at > o.FromEnd; {
		next, ok := find(at+4*d, at+o.Spacing, true)
		if !ok {
			break
		}
		out = append(out, next)
		at = next.along
	}
	if n := len(out); n == 1 {
		if s, ok := find(long-o.FromEnd, long, false); ok && s.along > out[0].along {
			out = append(out, s)
		}
	}
	return out
}

// placesOf lists places along the glass, legs left out, and whether each is good.
func placesOf(u pattern.Unit, d float64) []Support {
	var out []Support
	from, to := 0.0, u.Tube.Length()
	for at := from + step; at < to; at += step {
		q, dir := along(u, at)
		if math.Abs(dir.Z) > 0.5 {
			continue // a leg or a post
		}
		s := Support{Unit: u.ID, At: q.Plan(), Depth: -q.Z, along: at, Under: math.Abs(dir.Z) > 0.05}
		for _, h := range u.Heats {
			// A gentle curve may be held; anything tighter than 6 D may not.
			if h.Radius < 6*d && at > h.Start-d && at < h.End+d {
				s.Under = true
			}
		}
		for _, k := range u.Plan.Pieces {
			if k.From > 0 && math.Abs(at-k.From) < 2*d {
				s.Under = true
			}
		}
		out = append(out, s)
	}
	return out
}

// along returns the place and direction at a developed distance.
func along(u pattern.Unit, at float64) (geom.Point3, geom.Vec3) {
	for _, p := range u.Tube {
		n := p.Seg.Length()
		if at <= n {
			return p.Seg.PointAt(at), p.Seg.DirAt(at)
		}
		at -= n
	}
	return u.Tube.End(), u.Tube.EndDir()
}
