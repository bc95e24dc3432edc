package plan

import (
	"math"

	"tubewright/pattern/finding"
)

// weldRoom is how far other glass stands from the axis of a weld, mm, so that a hand
// torch gets all round it (common practice, no source).
const weldRoom = 25.0

// reportReach tells where other glass is near a weld when it is made: of sticks
// before the heat that needs the second, of parts in the finished unit.
func (m *maker) reportReach(parts []Section) {
	for i, s := range parts {
		for k, step := range s.Order.Steps {
			for _, j := range step.Joins {
				m.reportNear(s.Welds[j], s.problem.Around(s.Order, k, s.Welds[j], 2*weldRoom))
			}
		}
		if i < len(parts)-1 {
			m.reportNear(s.To, m.around(s.To))
		}
	}
}

func (m *maker) reportNear(at, least float64) {
	if least < weldRoom {
		m.report(finding.Note, "weld-reach", at, "other glass stands near a weld: the torch must still get round it",
			"weld with a small flame, and turn the work", least, weldRoom)
	}
}

// around returns how near other glass of the finished unit comes to a place.
func (m *maker) around(at float64) float64 {
	q, least, s := m.pointAt(at), math.Inf(1), 0.0
	for _, p := range m.u.Tube {
		n := p.Seg.Length()
		for k := range int(n/aroundStep) + 2 {
			v := min(n, float64(k)*aroundStep)
			if math.Abs(s+v-at) > 2*weldRoom {
				least = min(least, p.Seg.PointAt(v).Dist(q))
			}
		}
		s += n
	}
	return least
}

// aroundStep is how close the places looked at stand, mm.
const aroundStep = 2.0
