package bend

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// Kinds of heat. Raise and drop are the bender's words: on the bench, where
// the face lies down, glass that goes behind the face rises off the table.
const (
	Corner     = "corner"      // one bend in the face
	Curve      = "curve"       // a stretch of curve, ribbon fire
	DoubleBack = "double-back" // a turn that brings the run back behind
	DropBack   = "drop-back"   // a bend out of the face that carries a leg or a hidden run
	Raise      = "raise"       // off the table: two small opposite bends
	Drop       = "drop"        // back to the table
)

// Heats groups the arcs of a tube into working steps, numbered in the order of
// travel from electrode A, and writes each step's number into the table rows.
//
// A corner is one arc in the face; a turn behind is the two quarter turns at
// the end of a stroke; a raise or a drop is the pair of opposite arcs of a ramp;
// what is left are curves, joined up to the length one ribbon fire heats. What turns
// too little to be bent is made with its neighbour (settle.go).
func Heats(t tube.Tube, tab *Table, rules glass.Rules) []Heat {
	g := grouper{t: t, rules: rules, starts: make([]float64, len(t)+1)}
	for i, p := range t {
		g.starts[i+1] = g.starts[i] + p.Seg.Length()
	}
	var heats []Heat
	for i := 0; i < len(t); i++ {
		if !g.isArc(i) {
			continue
		}
		h := g.group(i)
		g.fire(&h)
		heats = append(heats, h)
		i = h.Last
	}
	heats = g.settle(heats)
	for i := range heats {
		heats[i].Number = i + 1
	}
	tab.number(t, heats)
	return heats
}

// number writes the number of each heat into the rows of its arcs.
func (tab *Table) number(t tube.Tube, heats []Heat) {
	row := 0
	for _, h := range heats {
		for i := h.First; i <= h.Last; i++ {
			if _, ok := t[i].Seg.(geom.Arc3); ok {
				tab.Rows[row].Bend = h.Number
				row++
			}
		}
	}
}

// Renumber numbers the heats, which stay in the order of travel, in the order
// in which they are made: order lists indexes of heats, each once. It panics for
// any other order.
func Renumber(t tube.Tube, tab *Table, heats []Heat, order []int) {
	if len(order) != len(heats) {
		panic("bend: an order that does not hold each heat once")
	}
	for i := range heats {
		heats[i].Number = 0
	}
	for n, i := range order {
		if heats[i].Number != 0 {
			panic("bend: an order that holds a heat twice")
		}
		heats[i].Number = n + 1
	}
	tab.number(t, heats)
}

type grouper struct {
	t      tube.Tube
	rules  glass.Rules
	starts []float64
}

// flat says that an arc lies in a plane parallel to the face.
func flat(a geom.Arc3) bool { return math.Abs(a.Axis.Z) > 0.999 }

func (g *grouper) arc(i int) geom.Arc3 { return g.t[i].Seg.(geom.Arc3) }

func (g *grouper) group(i int) Heat {
	if flat(g.arc(i)) {
		return g.inFace(i)
	}
	last := g.solid(i)
	in, out := g.arc(i).DirAt(0), dirOut(g.t[last].Seg)
	dz := g.t[last].Seg.End().Z - g.t[i].Seg.Start().Z
	kind := DropBack
	switch steepIn, steepOut := math.Abs(in.Z) > 0.9, math.Abs(out.Z) > 0.9; {
	case steepIn || steepOut:
	case in.Dot(out) < -0.5:
		kind = DoubleBack
	case last == i+1 && math.Abs(g.arc(i).DirAt(g.arc(i).Length()).Z) > 0.99 && in.Dot(out) < 0.5:
		// two quarter turns through the vertical: down the end and away
		kind = DoubleBack
	case dz < 0:
		kind = Raise
	default:
		kind = Drop
	}
	return g.heat(kind, i, last)
}

// A ramp or a turn behind may have a straight between its bends and still be one
// working step: a slope up to shortSlope, an upright up to shortPost, in D (C).
const (
	shortSlope = 6.0
	shortPost  = 2.0
)

// solid returns the last piece of the out-of-face heat that starts at i: the arcs
// of a turn behind or of a ramp until the tube is level again, or those up to a
// leg or a long upright.
func (g *grouper) solid(i int) int {
	last := i
	for {
		d := dirOut(g.t[last].Seg)
		if math.Abs(d.Z) < 1e-6 {
			return last
		}
		next := last + 1
		if next < len(g.t) && !g.isArc(next) {
			most := shortSlope * g.rules.Diameter
			if math.Abs(d.Z) > 0.9 {
				most = shortPost * g.rules.Diameter
			}
			if g.t[next].Seg.Length() > most {
				return last
			}
			next++
		}
		if next >= len(g.t) || !g.isArc(next) || flat(g.arc(next)) {
			return last
		}
		last = next
	}
}

func dirOut(s geom.Segment3) geom.Vec3 { return s.DirAt(s.Length()) }

// A ribbon fire is used instead of a crossfire from 3 D of radius or 6 D of
// arc (trade notes 2.3, C).
const (
	ribbonRadius = 3.0 // D
	ribbonArc    = 6.0 // D
	// shortStraight is the longest straight that one ribbon fire takes in
	// between two gentle arcs of a curve, in D (C).
	shortStraight = 2.0
	// shortArc is the arc that is no heat of its own beside another, in D: what a
	// crossfire heats (P, S13).
	shortArc = 2.0
)

// inFace groups arcs in the face: a lone short arc is a corner, others are
// joined to stretches of curve of at most the length of one ribbon fire and
// half a turn; tight ones only to what a crossfire heats.
func (g *grouper) inFace(i int) Heat {
	last, turn, turns := i, g.arc(i).Angle, 1
	most := g.rules.HeatLength
	if !g.gentle(i) {
		most = min(most, ribbonArc*g.rules.Diameter)
	}
	for {
		next := g.nextOfCurve(last)
		if next < 0 {
			break
		}
		if !g.t[next].Joined {
			if g.starts[next+1]-g.starts[i] > most || turn+g.arc(next).Angle > math.Pi+1e-9 {
				break
			}
			turns++
		}
		turn += g.arc(next).Angle
		last = next
	}
	length := g.starts[last+1] - g.starts[i]
	if turns == 1 && !g.gentle(i) && length <= ribbonArc*g.rules.Diameter {
		return g.heat(Corner, i, last)
	}
	return g.heat(Curve, i, last)
}

func (g *grouper) gentle(i int) bool { return g.arc(i).Radius() >= ribbonRadius*g.rules.Diameter }

// nextOfCurve returns the arc in the face that carries on after piece i: the rest
// of the same circle, one as tight or as gentle, or where one of the two is
// shorter than any heat; gentle ones also over a short straight, and short ones
// over a straight that both heat. -1 if none.
func (g *grouper) nextOfCurve(i int) int {
	next := i + 1
	over := next < len(g.t) && !g.isArc(next)
	if over {
		next++
	}
	if next >= len(g.t) || !g.isArc(next) || !flat(g.arc(next)) {
		return -1
	}
	alike := g.gentle(i) == g.gentle(next)
	if over {
		straight := g.t[i+1].Seg.Length()
		if g.gentle(i) && alike && straight <= shortStraight*g.rules.Diameter || straight < g.beyond(i)+g.beyond(next) {
			return next
		}
		return -1
	}
	short := min(g.arc(i).Length(), g.arc(next).Length()) < shortArc*g.rules.Diameter
	if g.t[next].Joined || alike || short {
		return next
	}
	return -1
}

// beyond is how far a crossfire heats past each end of an arc: bends whose heated
// zones overlap are made together.
func (g *grouper) beyond(i int) float64 {
	a := g.arc(i)
	return max(0, (cornerShare(a.Angle)*g.rules.CornerZone-a.Length())/2)
}

func (g *grouper) isArc(i int) bool { _, ok := g.t[i].Seg.(geom.Arc3); return ok }

func (g *grouper) heat(kind string, first, last int) Heat {
	h := Heat{Kind: kind, First: first, Last: last, Start: g.starts[first], End: g.starts[last+1]}
	h.Radius = math.Inf(1)
	for k := first; k <= last; k++ {
		if !g.isArc(k) {
			continue
		}
		a := g.arc(k)
		h.Angle += a.Angle
		h.Radius = min(h.Radius, a.Radius())
	}
	h.At = pointAt(g.t[first:last+1], (h.End-h.Start)/2)
	h.Direction = direction(g.arc(first))
	return h
}

func pointAt(t tube.Tube, s float64) geom.Point3 {
	for _, p := range t {
		if n := p.Seg.Length(); s <= n {
			return p.Seg.PointAt(s)
		} else {
			s -= n
		}
	}
	return t.End()
}

// direction says where a bend turns to as the bender sees it on the bench:
// the mirror image, with what lies behind the face up.
func direction(a geom.Arc3) string {
	if flat(a) {
		if a.Axis.Z > 0 {
			return "right" // left as read from the front, mirrored
		}
		return "left"
	}
	if dirOut(a).Z < a.DirAt(0).Z {
		return "up"
	}
	return "down"
}
