package order

import (
	"math"

	"tubewright/geom"
)

// leastStep keeps the advance going where glass nearly touches: at most this
// far (mm) may the glass move unseen.
const leastStep = 0.02

// closeTo is where the balls about two groups are near enough (mm) to look at
// their chords: balls alone would creep up to each other.
const closeTo = 6.0

// way is how one side is swung: the pose of the swinging side in the frame of the
// side that stays.
type way struct {
	b      *formed
	swings Side
	lift   float64 // radians that the arm is lifted off the table before it swings, and lowered after
}

// liftAngle is how far a hot joint lets the arm be lifted to pass over glass that
// lies on the table (from memory); lifting takes liftShare of the way, and
// lowering as much.
const (
	liftAngle = 20 * math.Pi / 180
	liftShare = 0.15
)

func (w way) pose(s float64) frame {
	if w.lift == 0 {
		if w.swings == SideB {
			return w.b.pose(s)
		}
		return w.b.pose(s).inverse()
	}
	t := clamp((s - liftShare) / (1 - 2*liftShare))
	lift := w.lift * min(1, min(s, 1-s)/liftShare)
	f, up, arm := w.b.pose(t), w.b.entry, geom.Vec3{}
	if w.swings == SideA {
		f, up = f.inverse(), w.b.exitDone
		arm = f.x.Neg()
	} else {
		arm = f.x
	}
	axis := arm.Cross(up.local(geom.Vec3{Z: 1})).Unit()
	return f.turned(axis, geom.Angle(lift))
}

// speed bounds how fast a point at a distance from the joint goes, in mm for
// the whole way.
func (w way) speed(distance float64) float64 {
	turning := w.b.turn.speed(distance) + float64(w.b.sum*w.b.length)
	if w.lift == 0 {
		return turning
	}
	return max(turning/(1-2*liftShare), w.lift*distance/liftShare)
}

// level reports whether both arms lie along the table, so that one can be lifted.
func (b *formed) level() bool {
	const steep = 0.3
	return max(b.entry.x.Z, -b.entry.x.Z) < steep && max(b.exitDone.x.Z, -b.exitDone.x.Z) < steep &&
		max(b.turn.roll, -b.turn.roll) < steep && b.across() < steep
}

// across is how far the axis of the swing is from upright, as a sine.
func (b *formed) across() float64 {
	return 1 - max(b.entry.dir(b.turn.axis).Z, -b.entry.dir(b.turn.axis).Z)
}

// hits reports whether anything touches while heat b is bent flat, and the heat
// whose glass is in the way; then whether lifting a side helps.
func (m *model) hits(b *formed, before, after []group) (other int, hit bool, lifted [2]bool) {
	if k, hit := m.zoneHits(b, before, after); hit {
		return k, true, lifted
	}
	k, hit := m.wayHits(way{b: b, swings: SideB}, before, after)
	if hit && m.lim.table && b.level() {
		_, a := m.wayHits(way{b: b, swings: SideA, lift: liftAngle}, after, before)
		_, z := m.wayHits(way{b: b, swings: SideB, lift: liftAngle}, before, after)
		lifted = [2]bool{!a, !z}
	}
	return k, hit, lifted
}

// wayHits reports whether the swinging side touches the side that stays.
func (m *model) wayHits(w way, stays, swings []group) (int, bool) {
	for i := range stays {
		for j := range swings {
			if stays[i].touching && swings[j].touching {
				continue
			}
			if m.pairHits(w, &stays[i], &swings[j]) {
				return blame(stays[i], swings[j]), true
			}
		}
	}
	return 0, false
}

// blame returns the heat that formed one of two groups of glass: formed glass
// before straight.
func blame(a, b group) int {
	if len(a.pts) > 2 || len(b.pts) <= 2 {
		return a.heat
	}
	return b.heat
}

// pairHits advances the swing by what the distance between the two groups
// allows: v is the greatest speed of any point of the far group, in mm for the
// whole bend.
func (m *model) pairHits(w way, fixed, far *group) bool {
	reach := far.centre.Dist(geom.Point3{}) + far.radius
	v := w.speed(reach)
	for t := 0.0; ; {
		pose := w.pose(t)
		gap := pose.at(far.centre).Dist(fixed.centre) - far.radius - fixed.radius - m.lim.touch
		if gap <= closeTo {
			return m.chordsHit(w, fixed, far, t)
		}
		if t >= 1 {
			return false
		}
		t = advance(t, gap/max(v, leastStep))
	}
}

// chordsHit goes on from t with the chords of the two groups.
func (m *model) chordsHit(w way, fixed, far *group, from float64) bool {
	own := 3 * m.lim.touch
	pts := make([]geom.Point3, len(far.pts))
	v := make([]float64, len(far.pts))
	for i, p := range far.pts {
		v[i] = w.speed(p.Dist(geom.Point3{}))
	}
	for t := from; ; {
		pose := w.pose(t)
		for i, p := range far.pts {
			pts[i] = pose.at(p)
		}
		step := 1.0
		for i := 1; i < len(fixed.pts); i++ {
			for j := 1; j < len(pts); j++ {
				if apart(fixed.at[i-1], fixed.at[i], far.at[j-1], far.at[j]) < own && (len(fixed.pts) > 2 || len(pts) > 2) {
					continue
				}
				gap := segmentDistance(fixed.pts[i-1], fixed.pts[i], pts[j-1], pts[j]) - m.lim.touch
				if gap < -1e-9 {
					return true
				}
				step = min(step, max(gap, leastStep)/max(max(v[j-1], v[j]), leastStep))
			}
		}
		if t >= 1 {
			return false
		}
		t = advance(t, step)
	}
}

// zonePoses is in how many places of the bend the heated glass itself is looked
// at: it is short, and near only its own neighbours.
const zonePoses = 16

// zoneHits looks for glass that touches the heated glass itself while it bends.
func (m *model) zoneHits(b *formed, before, after []group) (int, bool) {
	if b.length < m.lim.touch/2 {
		return 0, false // a corner with no glass in it
	}
	for k := range zonePoses + 1 {
		t := float64(k) / zonePoses
		z := b.zoneAt(k)
		pose := b.pose(t)
		for i := range before {
			if !before[i].touching && m.zoneTouches(b, z, &before[i], identity()) {
				return before[i].heat, true
			}
		}
		for i := range after {
			if !after[i].touching && m.zoneTouches(b, z, &after[i], pose) {
				return after[i].heat, true
			}
		}
	}
	return 0, false
}

// zoneAt returns the heated glass in one of its poses, as a group.
func (b *formed) zoneAt(k int) *group {
	if b.zones == nil {
		b.zones = make([]*group, zonePoses+1)
	}
	if b.zones[k] == nil {
		pts, at := b.bent(float64(k) / zonePoses)
		for i := range at {
			at[i] += b.start
		}
		g := newGroup(pts, at, -1)
		b.zones[k] = &g
	}
	return b.zones[k]
}

func (m *model) zoneTouches(b *formed, zone, g *group, place frame) bool {
	if place.at(g.centre).Dist(zone.centre) > g.radius+zone.radius+m.lim.touch {
		return false
	}
	own := 3 * m.lim.touch
	for i := 1; i < len(g.pts); i++ {
		p, q := place.at(g.pts[i-1]), place.at(g.pts[i])
		for j := 1; j < len(zone.pts); j++ {
			if apart(g.at[i-1], g.at[i], zone.at[j-1], zone.at[j]) >= own &&
				segmentDistance(p, q, zone.pts[j-1], zone.pts[j]) < m.lim.touch-sagitta {
				return true
			}
		}
	}
	return false
}

// apart returns the distance along the tube between two stretches of it, each
// given by its ends in any order.
func apart(a, b, c, d float64) float64 {
	return max(min(a, b)-max(c, d), min(c, d)-max(a, b))
}
