package support

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern"
)

// Rule says where supports go, mm; the zero value takes the defaults.
type Rule struct {
	Spacing float64 // the most between two along the glass; default 450 (C)
	FromEnd float64 // the most from a support to an electrode; default 150 (M, NEC 600.41(B))
}

// Settled returns the rule with its defaults written out.
func (r Rule) Settled() Rule {
	if r.Spacing == 0 {
		r.Spacing = 450
	}
	if r.FromEnd == 0 {
		r.FromEnd = 150
	}
	return r
}

// Place is a place to hold a unit. Under is set where the glass there is not
// straight and level, as supports should have it: no better place was found.
type Place struct {
	Unit  string
	S     float64     // developed mm from seal A
	At    geom.Point3 // of the tube's centre
	Dir   geom.Vec3   // along the glass, length 1
	Under bool

	hole bool // the wall there is drilled for the housing of an electrode
}

// rank says how bad a place is: good, under, or at a hole.
func (s Place) rank() int {
	switch {
	case s.hole:
		return 2
	case s.Under:
		return 1
	}
	return 0
}

// Places returns places to hold each unit: within FromEnd of each electrode, at
// most Spacing apart, on level straight or gently curved glass clear of heats
// and welds where there is any.
func Places(p pattern.Pattern, r Rule) []Place {
	r = r.Settled()
	var out []Place
	for _, u := range p.Units {
		out = append(out, unitPlaces(u, p.Spec.Rules.Diameter, r)...)
	}
	return out
}

// step is how finely places along a unit are looked at, mm.
const step = 5.0

// unitPlaces walks along a unit: from the farthest good place near electrode A,
// each time to the farthest within the spacing, until one near electrode B is within
// it.
func unitPlaces(u pattern.Unit, d float64, r Rule) []Place {
	long := u.Tube.Length()
	places := candidates(u, d)
	first, ok := find(places, 0, r.FromEnd)
	if !ok {
		return nil
	}
	out := []Place{first}
	for at := first.S; long-at > r.FromEnd || len(out) < 2; {
		next, ok := find(places, max(at+4*d, long-r.FromEnd), at+r.Spacing)
		if !ok {
			next, ok = find(places, at+4*d, at+r.Spacing)
		}
		if !ok {
			break
		}
		out = append(out, next)
		at = next.S
	}
	return out
}

// find returns the last of the best places of a stretch.
func find(places []Place, from, to float64) (best Place, found bool) {
	for _, s := range places {
		if s.S < from-1e-9 || s.S > to+1e-9 {
			continue
		}
		if !found || s.rank() <= best.rank() {
			best, found = s, true
		}
	}
	return best, found
}

// candidates lists places along the glass, legs left out, and whether each is good.
func candidates(u pattern.Unit, d float64) []Place {
	var out []Place
	piece, before := 0, 0.0 // the piece of glass that at lies on, and its start
	for at := step; at < u.Tube.Length(); at += step {
		for piece+1 < len(u.Tube) && at > before+u.Tube[piece].Seg.Length() {
			before += u.Tube[piece].Seg.Length()
			piece++
		}
		seg := u.Tube[piece].Seg
		s := Place{Unit: u.ID, S: at, At: seg.PointAt(at - before), Dir: seg.DirAt(at - before)}
		if math.Abs(s.Dir.Z) > 0.5 {
			continue // a leg or a post
		}
		s.hole = atElectrode(u, s.At.Plan(), d)
		s.Under = s.hole || math.Abs(s.Dir.Z) > 0.05 || crowded(u, at, d)
		out = append(out, s)
	}
	return out
}

// fromHole is how far, in D, a support should stand from the middle of an electrode's
// hole (judgement, no source: half the hole, some 1.5 D wide, half the glass, and room
// for the foot of the support).
const fromHole = 2.0

func atElectrode(u pattern.Unit, q geom.Point, d float64) bool {
	return min(q.Dist(u.Tube.Start().Plan()), q.Dist(u.Tube.End().Plan())) < fromHole*d
}

// crowded reports whether a heat or a weld is too near to a place.
func crowded(u pattern.Unit, at, d float64) bool {
	for _, h := range u.Heats {
		// A gentle curve may be held; anything tighter than 6 D may not.
		if h.Radius < 6*d && at > h.Start-d && at < h.End+d {
			return true
		}
	}
	for _, k := range u.Plan.Pieces {
		if k.From > 0 && math.Abs(at-k.From) < 2*d {
			return true
		}
	}
	return false
}
