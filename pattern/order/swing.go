package order

import (
	"math"

	"tubewright/geom"
)

// leastStep is how far, in mm, glass always moves before it is looked at again:
// what it may pass over unseen is a graze less than leastStep²/8D deep, 0.1 mm for
// a tube of 12 mm.
const leastStep = 3.0

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

// lifts are how far a hot joint lets the arm be lifted to pass over glass that lies
// on the table, the lowest that will do (from memory; 45 degrees over the shortest
// heated zone, 1.5 D, is a radius of 1.9 D, gentler than a corner). Lifting takes
// liftShare of the way, and lowering as much.
var lifts = [2]float64{20 * math.Pi / 180, 45 * math.Pi / 180}

const liftShare = 0.15

func (w way) pose(s float64) frame {
	if w.lift == 0 {
		return w.flat(s)
	}
	t := clamp((s - liftShare) / (1 - 2*liftShare))
	lift := w.lift * min(1, min(s, 1-s)/liftShare)
	f, up := w.flat(t), w.b.entry
	arm := f.x
	if w.swings == SideA {
		up, arm = w.b.exitDone, f.x.Neg()
	}
	axis := arm.Cross(up.local(geom.Vec3{Z: 1})).Unit()
	return f.turned(axis, geom.Angle(lift))
}

func (w way) flat(s float64) frame {
	if w.swings == SideA {
		return w.b.kept(s).near
	}
	return w.b.kept(s).far
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
		max(b.turn.roll, -b.turn.roll) < steep && (max(b.turn.angle, -b.turn.angle) < steep || b.across() < steep)
}

// across is how far the axis of the swing is from upright, as a sine.
func (b *formed) across() float64 {
	return 1 - max(b.entry.dir(b.turn.axis).Z, -b.entry.dir(b.turn.axis).Z)
}

// swept is what the simulation of a swing found, a side.
type swept struct {
	free    [2]bool    // nothing is touched when this side swings
	lift    [2]float64 // if it is lifted by so much
	other   int        // the heat whose glass is in the way
	because [2]int     // the heats that this rests on
}

// blocked notes two pieces of glass that touch.
func (s *swept) blocked(m *model, h int, a, b *group) {
	s.other = blame(a, b, h)
	for _, g := range [2]*group{a, b} {
		r := m.restsOn(h, g)
		s.because[0], s.because[1] = min(s.because[0], r[0]), max(s.because[1], r[1])
	}
}

// sweep swings each side in turn, flat and, where that touches, lifted.
func (m *model) sweep(b *formed, before, after []group) swept {
	h := m.index(b)
	out := swept{other: -1, because: [2]int{h, h}}
	if g := m.zoneHits(b, before, after); g != nil {
		out.blocked(m, h, g, g)
		return out
	}
	stays, swings := [2][]group{after, before}, [2][]group{before, after}
	for s := range stays {
		if s == 1 && max(b.turn.roll, -b.turn.roll) < 1e-9 && (out.free[0] && out.lift[0] == 0) {
			out.free[1] = true // without a roll it is the same motion
			continue
		}
		t := contact{m: m, stays: stays[s], swings: swings[s]}
		hit := t.on(way{b: b, swings: Side(s)})
		if hit {
			out.blocked(m, h, t.a, t.b)
		}
		for _, lift := range lifts {
			if !hit || !m.lim.table || !b.level() {
				break
			}
			if hit = t.on(way{b: b, swings: Side(s), lift: lift}); hit {
				out.blocked(m, h, t.a, t.b)
			}
			out.lift[s] = lift
		}
		out.free[s] = !hit
	}
	return out
}

// index returns the index of a heat of the model.
func (m *model) index(b *formed) int {
	for i := range m.heats {
		if &m.heats[i] == b {
			return i
		}
	}
	panic("order: a heat of another model")
}

// contact looks for glass that touches on the way: a of the side that stays, b of
// the side that swings. What touched on one way is looked at first on the next.
type contact struct {
	m             *model
	stays, swings []group
	a, b          *group
}

func (t *contact) on(w way) bool {
	if t.a != nil && t.m.pairHits(w, t.a, t.b) {
		return true
	}
	for i := range t.stays {
		for j := range t.swings {
			a, b := &t.stays[i], &t.swings[j]
			if a.touching && b.touching || a == t.a && b == t.b {
				continue
			}
			if t.m.pairHits(w, a, b) {
				t.a, t.b = a, b
				return true
			}
		}
	}
	return false
}

// blame returns the heat that formed one of two pieces of glass: bent glass before
// straight, and not the heat in the fire while there is another.
func blame(a, b *group, fire int) int {
	if len(a.pts) <= 2 && len(b.pts) > 2 || a.heat == fire {
		return b.heat
	}
	return a.heat
}

// pairHits advances the swing by what the distance between the two groups
// allows: v is the greatest speed of any point of the far group, in mm for the
// whole bend.
func (m *model) pairHits(w way, fixed, far *group) bool {
	ball := far.centre.Dist(geom.Point3{})
	reach := ball + far.radius
	// The far ball keeps its distance from the joint, and the joint stays within
	// the heated length of where the near side begins.
	if off := fixed.centre.Dist(geom.Point3{}) - ball; max(off, -off) > far.radius+fixed.radius+m.lim.touch+w.b.length {
		return false
	}
	v := w.speed(reach)
	for t := 0.0; ; {
		m.work++
		pose := w.pose(t)
		gap := pose.at(far.centre).Dist(fixed.centre) - far.radius - fixed.radius - m.lim.touch
		if gap <= closeTo {
			return m.chordsHit(w, fixed, far, t)
		}
		if !(t < 1) { // so that a distance that is no number ends it too
			return false
		}
		t = advance(t, max(gap, leastStep)/max(v, leastStep))
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
		m.work += len(fixed.pts) * len(pts)
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
		if !(t < 1) { // so that a distance that is no number ends it too
			return false
		}
		t = advance(t, step)
	}
}

// zonePoses is in how many places of the bend the heated glass itself is looked
// at: it is short, and near only its own neighbours.
const zonePoses = 16

// zoneHits looks for glass that touches the heated glass itself while it bends.
func (m *model) zoneHits(b *formed, before, after []group) *group {
	if b.length < m.lim.touch/2 {
		return nil // a corner with no glass in it
	}
	for k := range zonePoses + 1 {
		z := b.zoneAt(k)
		m.work += len(before) + len(after)
		joint := b.kept(float64(k) / zonePoses).joint
		for i := range before {
			if !before[i].touching && m.zoneTouches(z, &before[i], identity()) {
				return &before[i]
			}
		}
		for i := range after {
			if !after[i].touching && m.zoneTouches(z, &after[i], joint) {
				return &after[i]
			}
		}
	}
	return nil
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

func (m *model) zoneTouches(zone, g *group, place frame) bool {
	if place.at(g.centre).Dist(zone.centre) > g.radius+zone.radius+m.lim.touch {
		return false
	}
	own := 3 * m.lim.touch
	m.work += len(g.pts) * len(zone.pts)
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
