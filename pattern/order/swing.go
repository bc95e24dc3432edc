package order

import (
	"math"

	"tubewright/geom"
)

// leastStep keeps the advance going where glass nearly touches: at most this
// far (mm) may the glass move unseen.
const leastStep = 0.02

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
		if gap <= 0 {
			return m.chordsHit(b, fixed, far, t)
		}
		if t >= 1 {
			return false
		}
		t = advance(t, math.Max(gap, leastStep)/math.Max(v, leastStep))
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
				step = math.Min(step, math.Max(gap, leastStep)/math.Max(math.Max(v[j-1], v[j]), leastStep))
			}
		}
		if t >= 1 {
			return false
		}
		t = advance(t, step)
	}
}

// zoneHits looks for glass that touches the heated glass itself while it bends.
func (m *model) zoneHits(b *formed, before, after []group) (int, bool) {
	if b.length < m.lim.touch/2 {
		return 0, false // a corner with no glass in it
	}
	for _, side := range [2][]group{before, after} {
		isFar := len(after) > 0 && len(side) > 0 && &side[0] == &after[0]
		for i := range side {
			if !side[i].touching && m.zoneHitsGroup(b, &side[i], isFar) {
				return side[i].heat, true
			}
		}
	}
	return 0, false
}

func (m *model) zoneHitsGroup(b *formed, g *group, isFar bool) bool {
	v := float64(b.sum * b.length)
	if isFar {
		v += b.turn.speed(g.centre.Dist(geom.Point3{})+g.radius) + v
	}
	own := 3 * m.lim.touch
	for t := 0.0; ; {
		place := identity()
		if isFar {
			place = b.pose(t)
		}
		mid := b.middle(t)
		gap := place.at(g.centre).Dist(mid) - g.radius - b.length/2 - m.lim.touch
		if gap <= 0 {
			zone, at := b.bent(t)
			gap = math.Inf(1)
			for i := 1; i < len(g.pts); i++ {
				p, q := place.at(g.pts[i-1]), place.at(g.pts[i])
				for j := 1; j < len(zone); j++ {
					if apart(g.at[i-1], g.at[i], b.start+at[j-1], b.start+at[j]) < own {
						continue
					}
					gap = math.Min(gap, segmentDistance(p, q, zone[j-1], zone[j])-m.lim.touch)
				}
			}
			if gap < -sagitta {
				return true
			}
		}
		if t >= 1 {
			return false
		}
		t = advance(t, math.Max(gap, leastStep)/math.Max(v, leastStep))
	}
}

// apart returns the distance along the tube between two stretches of it, each
// given by its ends in any order.
func apart(a, b, c, d float64) float64 {
	return math.Max(math.Min(a, b)-math.Max(c, d), math.Min(c, d)-math.Max(a, b))
}
