package bend

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// Tabulate returns the bend table of a tube, one row an arc, with the bend
// number of each row left 0 (Number fills it in).
//
// The rotation of a row is atan2(d·(p × q), p·q), d the direction of travel
// where the arc starts, p the axis of the arc before, q its own. An arc that
// continues the circle of the one before has rotation 0.
func Tabulate(t tube.Tube) Table {
	var tab Table
	var before *geom.Arc3
	straight := 0.0
	for _, p := range t {
		a, ok := p.Seg.(geom.Arc3)
		if !ok {
			straight += p.Seg.Length()
			continue
		}
		row := Row{StraightBefore: straight, Angle: a.Angle, Radius: a.Radius()}
		if before != nil {
			d := a.DirAt(0)
			row.Rotation = geom.Angle(math.Atan2(d.Dot(before.Axis.Cross(a.Axis)), before.Axis.Dot(a.Axis)))
		}
		tab.Rows = append(tab.Rows, row)
		before, straight = &a, 0
	}
	tab.StraightAfter = straight
	return tab
}

// Walk rebuilds the tube from its table alone: from the origin along +x, the
// axis of the first bend along +z.
func Walk(tab Table) []geom.Segment3 {
	var out []geom.Segment3
	p, d, axis := geom.Point3{}, geom.Vec3{X: 1}, geom.Vec3{Z: 1}
	forward := func(n float64) {
		if n > 0 {
			q := p.Add(d.Mul(n))
			out = append(out, geom.Line3{A: p, B: q})
			p = q
		}
	}
	for i, r := range tab.Rows {
		forward(r.StraightBefore)
		if i > 0 {
			axis = axis.Turned(d, r.Rotation).Unit()
		}
		in := axis.Cross(d).Mul(r.Radius)
		arc := geom.Arc3{Centre: p.Add(in), Axis: axis, From: in.Neg(), Angle: r.Angle}
		out = append(out, arc)
		p, d = arc.End(), d.Turned(axis, r.Angle).Unit()
	}
	forward(tab.StraightAfter)
	return out
}
