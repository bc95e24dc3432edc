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
// what is left are curves, joined up to the length one ribbon fire heats.
func Heats(t tube.Tube, tab *Table, rules glass.Rules) []Heat {
	g := grouper{t: t, rules: rules, starts: make([]float64, len(t)+1)}
	for i, p := range t {
		g.starts[i+1] = g.starts[i] + p.Seg.Length()
	}
	var heats []Heat
	for i := 0; i < len(t); i++ {
		if _, ok := t[i].Seg.(geom.Arc3); !ok {
			continue
		}
		h := g.group(i)
		h.Number = len(heats) + 1
		heats = append(heats, h)
		i = h.Last
	}
	row := 0
	for _, h := range heats {
		for i := h.First; i <= h.Last; i++ {
			if _, ok := t[i].Seg.(geom.Arc3); ok {
				tab.Rows[row].Bend = h.Number
				row++
			}
		}
	}
	return heats
}

type grouper struct {
	t      tube.Tube
	rules  glass.Rules
	starts []float64
}

// flat says that an arc lies in a plane parallel to the face.
func flat(a geom.Arc3) bool { return math.Abs(a.Axis.Z) > 0.999 }

// arcsFrom returns how many pieces from i on are arcs with no straight between.
func (g *grouper) arcsFrom(i int) int {
	n := 0
	for i+n < len(g.t) {
		if _, ok := g.t[i+n].Seg.(geom.Arc3); !ok {
			break
		}
		n++
	}
	return n
}

func (g *grouper) arc(i int) geom.Arc3 { return g.t[i].Seg.(geom.Arc3) }

func (g *grouper) group(i int) Heat {
	if flat(g.arc(i)) {
		return g.inFace(i)
	}
	n := g.solid(i)
	last := i + n - 1
	in, out := g.arc(i).DirAt(0), dirOut(g.t[last].Seg)
	dz := g.t[last].Seg.End().Z - g.t[i].Seg.Start().Z
	kind := DropBack
	switch steepIn, steepOut := math.Abs(in.Z) > 0.9, math.Abs(out.Z) > 0.9; {
	case steepIn || steepOut:
	case in.Dot(out) < -0.5:
		kind = DoubleBack
	case n == 2 && math.Abs(g.arc(i).DirAt(g.arc(i).Length()).Z) > 0.99:
		// two quarter turns through the vertical: down the end and away
		kind = DoubleBack
	case dz < 0:
		kind = Raise
	default:
		kind = Drop
	}
	return g.heat(kind, i, last)
}

// solid returns how many arcs from i on form one out-of-face heat: the pair
// of quarter turns of a turn behind, or the arcs of one ramp.
func (g *grouper) solid(i int) int {
	n, m := 1, g.arcsFrom(i)
	down := g.arc(i).DirAt(0).Z
	for n < m && !flat(g.arc(i+n)) {
		d := dirOut(g.t[i+n-1].Seg)
		if math.Abs(d.Z) < 1e-6 {
			break // level again: the ramp or the turn is complete
		}
		if math.Abs(down) > 0.9 && n > 0 {
			break // came up a post: one quarter turn ends it
		}
		n++
	}
	return n
}

func dirOut(s geom.Segment3) geom.Vec3 { return s.DirAt(s.Length()) }

// inFace groups arcs in the face: a lone short arc is a corner, others are
// joined to stretches of curve of at most the length of one ribbon fire.
func (g *grouper) inFace(i int) Heat {
	n := 1
	for n < g.arcsFrom(i) && flat(g.arc(i+n)) &&
		(g.t[i+n].Joined || g.starts[i+n+1]-g.starts[i] <= g.rules.HeatLength) {
		n++
	}
	last := i + n - 1
	length := g.starts[last+1] - g.starts[i]
	turns := 0
	for k := i; k <= last; k++ {
		if !g.t[k].Joined || k == i {
			turns++
		}
	}
	if turns == 1 && g.arc(i).Radius() < 3*g.rules.Diameter && length <= 6*g.rules.Diameter {
		return g.heat(Corner, i, last)
	}
	return g.heat(Curve, i, last)
}

func (g *grouper) heat(kind string, first, last int) Heat {
	h := Heat{Kind: kind, First: first, Last: last, Start: g.starts[first], End: g.starts[last+1]}
	h.Radius = math.Inf(1)
	for k := first; k <= last; k++ {
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
