package order

import (
	"math"

	"tubewright/geom"
)

// Reason says what stops a heat.
type Reason int

const (
	Possible Reason = iota
	Swing           // the swinging side hits the other, or the heated glass
	Fire            // other glass stands in the fire
	Hold            // too little cold glass on a side
	Hand            // no room for a hand on a side
	Table           // whichever side stays, glass would be under the table
	TooMany         // more heats than can be planned
)

// Side is a side of a heat: glass toward electrode A, or toward B.
type Side int

const (
	SideA Side = iota
	SideB
)

// question is what is asked of the simulation: heat h when those of done are made.
type question struct {
	done set
	heat int
}

// answer is what the simulation found. other is the heat that is in the way,
// -1 where none is to blame.
type answer struct {
	reason Reason
	other  int
	swung  bool       // whether the swings were simulated
	over   [2]bool    // whether all stays over the table when this side swings
	sweep  swept      // if swung
	swing  [2]float64 // mm of travel of the farthest point of each side
	reach  [2]float64 // mm from the heat to that point
}

// cheapest returns the side to swing: of those that touch nothing and, but over
// the edge of the table, keep all glass over it, the one that swings least. It
// tells whether glass then hangs below the table.
func (a answer) cheapest(edge bool) (side Side, below bool) {
	first := SideA
	if a.swing[SideB] < a.swing[SideA]-1e-6 {
		first = SideB
	}
	for _, needTable := range [2]bool{true, false} {
		for _, s := range [2]Side{first, 1 - first} {
			if a.sweep.free[s] && (a.over[s] || !needTable && edge) {
				return s, !a.over[s]
			}
		}
	}
	panic("order: no side of a possible heat can swing")
}

// possible reports whether some side can swing.
func (a answer) possible(edge bool) bool {
	return a.reason == Possible || a.reason == Table && edge && (a.sweep.free[SideA] || a.sweep.free[SideB])
}

// ask returns what stops heat h, simulating each question once. Where glass
// would be under the table, the swing is simulated only if that does not settle
// the matter: over the edge of the table.
func (m *model) ask(done set, h int, edge bool) answer {
	q := question{done, h}
	a, known := m.cache[q]
	if known && (a.swung || !edge || a.reason != Table) {
		return a
	}
	before, after := m.sides(done, h)
	if !known {
		m.checks++
		a = m.stand(done, h, before, after)
	}
	if a.reason == Possible || a.reason == Table && edge {
		a.swung, a.sweep = true, m.sweep(&m.heats[h], before, after)
		a.judge()
	}
	m.cache[q] = a
	return a
}

// judge tells what stops the heat when both table and swings are known.
func (a *answer) judge() {
	free, over := false, false
	for s := range a.over {
		free = free || a.sweep.free[s]
		over = over || a.sweep.free[s] && a.over[s]
	}
	switch {
	case over:
		a.reason = Possible
	case free:
		a.reason = Table
	default:
		a.reason, a.other = Swing, a.sweep.other
	}
}

// stand looks at everything but the swing.
func (m *model) stand(done set, h int, before, after []group) answer {
	b := &m.heats[h]
	a := answer{other: -1, over: [2]bool{true, true}}
	a.swing[SideA], a.reach[SideA] = b.travel(before)
	a.swing[SideB], a.reach[SideB] = b.travel(after)
	lo, hi := m.present(done, h)
	if m.lim.hold > 0 && (b.start+b.zone[0]-lo < m.lim.hold-1e-6 || hi-b.start-b.zone[1] < m.lim.hold-1e-6) {
		a.reason = Hold
		return a
	}
	if k, hit := m.inFire(b, before, after); hit {
		a.reason, a.other = Fire, k
		return a
	}
	if !m.roomForHands(b, before, after) {
		a.reason = Hand
		return a
	}
	if m.lim.table {
		a.over[SideA] = m.overTable(b, after, before, SideA)
		a.over[SideB] = m.overTable(b, before, after, SideB)
		if !a.over[SideA] && !a.over[SideB] {
			a.reason = Table
		}
	}
	return a
}

// travel returns how far the farthest point of a side travels when the heat is
// bent, and how far from the heat it is.
func (b *formed) travel(side []group) (travel, reach float64) {
	off := 0.0 // from the axis that a straight arm rolls about
	for _, g := range side {
		for _, p := range g.pts {
			reach = max(reach, p.Dist(geom.Point3{}))
			off = max(off, math.Hypot(p.Y, p.Z))
		}
	}
	shift := b.exit.o.Sub(geom.Point3{X: b.length}).Norm()
	return float64(math.Abs(b.turn.angle)*reach) + float64(math.Abs(b.turn.roll)*off) + shift, reach
}

// inFire looks for glass near the heated zone before the bend. Glass less than a
// quarter circle of the fire distance away along the tube is the zone's own.
func (m *model) inFire(b *formed, before, after []group) (int, bool) {
	if m.lim.fire == 0 {
		return 0, false
	}
	lo, hi := geom.Point3{X: b.zone[0]}, geom.Point3{X: b.zone[1]}
	mid, half := lo.Lerp(hi, 0.5), (b.zone[1]-b.zone[0])/2
	own := math.Pi / 2 * m.lim.fire
	look := func(gs []group, shift float64) (int, bool) {
		for _, g := range gs {
			c := g.centre
			c.X += shift
			if g.touching || c.Dist(mid) > g.radius+half+m.lim.fire {
				continue
			}
			for i := 1; i < len(g.pts); i++ {
				s := min(math.Abs(g.at[i]-b.start-b.length/2), math.Abs(g.at[i-1]-b.start-b.length/2)) - half
				if s < own {
					continue
				}
				p, q := g.pts[i-1], g.pts[i]
				p.X, q.X = p.X+shift, q.X+shift
				if segmentDistance(lo, hi, p, q) < m.lim.fire-2*sagitta {
					return g.heat, true
				}
			}
		}
		return 0, false
	}
	if k, hit := look(before, 0); hit {
		return k, true
	}
	return look(after, b.length)
}

// A hand takes handGrip mm of tube and keeps other glass handRoom mm away from
// the tube's axis (a fist about a tube: from memory). It takes hold anywhere
// between the last part of the held length and three times it.
const (
	handGrip = 80.0
	handRoom = 30.0
	handStep = 20.0
)

// roomForHands reports whether each side has a place for a hand that the glass
// of the other side leaves free, before the bend.
func (m *model) roomForHands(b *formed, before, after []group) bool {
	if m.lim.hold == 0 {
		return true
	}
	return m.roomOn(before, after, b.length, b) && m.roomOn(after, before, -b.length, b)
}

func (m *model) roomOn(side, other []group, shift float64, b *formed) bool {
	from := max(0, m.lim.hold-handGrip)
	free := 0.0
	zone := b.start + b.length/2
	for _, g := range side {
		for i := 1; i < len(g.pts); i++ {
			p, q := g.pts[i-1], g.pts[i]
			n := max(1, int(p.Dist(q)/handStep))
			for k := range n {
				t := float64(k) / float64(n)
				d := math.Abs(g.at[i-1] + (g.at[i]-g.at[i-1])*t - zone)
				if d < from+b.length/2 {
					continue
				}
				if d > 3*m.lim.hold {
					return free >= handGrip-handStep
				}
				free += p.Dist(q) / float64(n)
				if near(p.Lerp(q, t), other, shift) {
					free = 0
				}
				if free >= handGrip {
					return true
				}
			}
		}
	}
	return free >= handGrip-handStep
}

func near(p geom.Point3, gs []group, shift float64) bool {
	p.X -= shift
	for _, g := range gs {
		if g.centre.Dist(p) > g.radius+handRoom {
			continue
		}
		for i := 1; i < len(g.pts); i++ {
			if segmentDistance(p, p, g.pts[i-1], g.pts[i]) < handRoom {
				return true
			}
		}
	}
	return false
}

// poses is in how many places of the swing the height over the table is looked
// at. What lies in its place may be restSag under the table, in D: it is pressed
// flat afterwards. What swings may be liftSag under it: the bender lifts the tube
// that far while it is hot (both from memory).
const (
	poses   = 24
	restSag = 0.5
	liftSag = 2.0
)

// overTable reports whether no glass is under the table when one side stays in
// its place and the other swings.
func (m *model) overTable(b *formed, stays, swings []group, moving Side) bool {
	base := b.entry
	if moving == SideA {
		base = b.exitDone
	}
	if m.under(base, stays, restSag) {
		return false
	}
	for k := range poses + 1 {
		f := way{b: b, swings: moving}.pose(float64(k) / poses)
		sag := liftSag
		if k == poses {
			sag = restSag
		}
		if m.under(base.then(f), swings, sag) {
			return false
		}
	}
	return true
}

func (m *model) under(f frame, gs []group, sag float64) bool {
	least := -sag * m.lim.touch
	for _, g := range gs {
		if f.at(g.centre).Z-g.radius >= least {
			continue
		}
		for _, p := range g.pts {
			if f.at(p).Z < least {
				return true
			}
		}
	}
	return false
}
