package order

import (
	"tubewright/geom"
)

// leastStep keeps the advance going where glass nearly touches: at most this
// far (mm) may the glass move unseen.
const leastStep = 0.02

// closeTo is where the balls about two groups are near enough (mm) to look at
// their chords: balls alone would creep up to each other.
const closeTo = 6.0

// hits reports whether anything touches while heat b is bent, and the heat whose
// glass is in the way.
func (m *model) hits(b *formed, before, after []group) (int, bool) {
	for i := range before {
		for j := range after {
			if before[i].touching && after[j].touching {
				continue
			}
			if m.pairHits(b, &before[i], &after[j]) {
				return blame(before[i], after[j]), true
			}
		}
	}
	return m.zoneHits(b, before, after)
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
func (m *model) pairHits(b *formed, fixed, far *group) bool {
	reach := far.centre.Dist(geom.Point3{}) + far.radius
	v := b.turn.speed(reach) + float64(b.sum*b.length)
	for t := 0.0; ; {
		pose := b.pose(t)
		gap := pose.at(far.centre).Dist(fixed.centre) - far.radius - fixed.radius - m.lim.touch
		if gap <= closeTo {
			return m.chordsHit(b, fixed, far, t)
		}
		if t >= 1 {
			return false
		}
		t = advance(t, gap/max(v, leastStep))
	}
}

// chordsHit goes on from t with the chords of the two groups.
func (m *model) chordsHit(b *formed, fixed, far *group, from float64) bool {
	own := 3 * m.lim.touch
	pts := make([]geom.Point3, len(far.pts))
	v := make([]float64, len(far.pts))
	for i, p := range far.pts {
		v[i] = b.turn.speed(p.Dist(geom.Point3{})) + float64(b.sum*b.length)
	}
	for t := from; ; {
		pose := b.pose(t)
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
