package order

import (
	"math"

	"tubewright/geom"
)

// grip is a way to hold the tube: so many mm of it, with other glass so many mm
// away from its axis.
type grip struct{ length, room float64 }

// A fist takes 80 mm of tube and keeps other glass 30 mm from its axis; where there
// is no room for that, fingertips take 40 mm and need 8 mm between glass and glass
// (from memory).
const (
	fistGrip, fistRoom   = 80.0, 30.0
	pinchGrip, pinchRoom = 40.0, 8.0
)

func (m *model) fist() grip       { return grip{fistGrip, fistRoom} }
func (m *model) fingertips() grip { return grip{pinchGrip, m.lim.touch + pinchRoom} }

// handStep is how close the places looked at stand, mm. A hand takes hold anywhere
// between the last part of the held length and handFar times it.
const (
	handStep = 20.0
	handFar  = 3.0
)

// roomForHands reports whether each side has a place for a hand that the glass
// of the other side leaves free, before the bend.
func (m *model) roomForHands(b *formed, before, after []group, g grip) bool {
	if m.lim.hold == 0 {
		return true
	}
	return m.roomOn(before, after, b.length, b, g) && m.roomOn(after, before, -b.length, b, g)
}

func (m *model) roomOn(side, other []group, shift float64, b *formed, hand grip) bool {
	from := max(0, m.lim.hold-hand.length) + b.length/2
	zone := b.start + b.length/2
	free := 0.0
	for _, g := range side {
		for i := 1; i < len(g.pts); i++ {
			p, q := g.pts[i-1], g.pts[i]
			n := max(1, int(p.Dist(q)/handStep))
			for k := range n {
				t := float64(k) / float64(n)
				d := math.Abs(g.at[i-1] + (g.at[i]-g.at[i-1])*t - zone)
				if d < from {
					continue
				}
				if d > handFar*m.lim.hold {
					return free >= hand.length-handStep
				}
				free += p.Dist(q) / float64(n)
				if m.near(p.Lerp(q, t), other, shift, hand.room) {
					free = 0
				}
				if free >= hand.length {
					return true
				}
			}
		}
	}
	return free >= hand.length-handStep
}

func (m *model) near(p geom.Point3, gs []group, shift, room float64) bool {
	p.X -= shift
	m.work += len(gs)
	for _, g := range gs {
		if g.centre.Dist(p) > g.radius+room {
			continue
		}
		m.work += len(g.pts)
		for i := 1; i < len(g.pts); i++ {
			if segmentDistance(p, p, g.pts[i-1], g.pts[i]) < room {
				return true
			}
		}
	}
	return false
}
