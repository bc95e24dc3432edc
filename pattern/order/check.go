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
// -1 where none is to blame; because are the first and last of the heats that
// the refusal rests on: while the same of them are bent, it stands.
type answer struct {
	reason  Reason // Possible, or what stops the heat even where it may be awkward
	other   int
	because [2]int
	pinch   bool       // no room for a fist, only for fingertips
	over    [2]bool    // whether all stays over the table when this side swings
	swung   bool       // whether the swings were simulated
	sweep   swept      // if swung
	swing   [2]float64 // mm of travel of the farthest point of each side
	reach   [2]float64 // mm from the heat to that point
}

// A heat is awkward when glass hangs over the edge of the table, or when it can
// be held by fingertips only. Searches first look for orders without such heats.

// stops returns what stops the heat, Possible for nothing; awkward says whether an
// awkward heat will do. The swings must have been simulated where it matters.
func (a answer) stops(awkward bool) Reason {
	switch {
	case a.reason != Possible:
		return a.reason
	case a.pinch && !awkward:
		return Hand
	case !awkward && !a.freeOver():
		return Table
	}
	return Possible
}

// freeOver reports whether a side can swing with all glass over the table; before
// the swings were simulated, whether one might.
func (a answer) freeOver() bool {
	for s, over := range a.over {
		if over && (!a.swung || a.sweep.free[s]) {
			return true
		}
	}
	return false
}

// cheapest returns the side to swing: of those that touch nothing and, if one
// does, keep all glass over the table, the one that swings least. It tells whether
// glass then hangs below the table.
func (a answer) cheapest() (side Side, below bool) {
	first := SideA
	if a.swing[SideB] < a.swing[SideA]-1e-6 {
		first = SideB
	}
	for _, needTable := range [2]bool{true, false} {
		for _, s := range [2]Side{first, 1 - first} {
			if a.sweep.free[s] && (a.over[s] || !needTable) {
				return s, !a.over[s]
			}
		}
	}
	panic("order: no side of a possible heat can swing")
}

// ask returns what stops heat h, simulating each question once, and the swings
// only where nothing else settles the matter.
func (m *model) ask(done set, h int, awkward bool) answer {
	q := question{done, h}
	a, known := m.cache[q]
	if known && (a.swung || a.stops(awkward) != Possible) {
		return a
	}
	if !known {
		if r, ok := m.refused(done, h); ok {
			return r
		}
	}
	before, after := m.sides(done, h)
	if !known {
		m.checks++
		a = m.stand(done, h, before, after)
	}
	if a.stops(awkward) == Possible {
		a.swung, a.sweep = true, m.sweep(&m.heats[h], before, after)
		if !a.sweep.free[SideA] && !a.sweep.free[SideB] {
			a.reason, a.other, a.because = Swing, a.sweep.other, a.sweep.because
		}
	}
	if a.other == h { // its own straights, as they are
		a.other = -1
	}
	m.cache[q] = a
	if a.reason != Possible {
		m.refuse(done, h, a)
	}
	return a
}

// stand looks at everything but the swing.
func (m *model) stand(done set, h int, before, after []group) answer {
	b := &m.heats[h]
	a := answer{other: -1, because: m.all(), over: [2]bool{true, true}}
	a.swing[SideA], a.reach[SideA] = b.travel(before)
	a.swing[SideB], a.reach[SideB] = b.travel(after)
	lo, hi := m.present(done, h)
	if m.lim.hold > 0 && (b.start+b.zone[0]-lo < m.lim.hold-1e-6 || hi-b.start-b.zone[1] < m.lim.hold-1e-6) {
		a.reason = Hold
		return a
	}
	if g := m.inFire(b, before, after); g != nil {
		a.reason, a.other, a.because = Fire, g.heat, m.restsOn(h, g)
		return a
	}
	if !m.roomForHands(b, before, after, m.fist()) {
		if !m.roomForHands(b, before, after, m.fingertips()) {
			a.reason = Hand
			return a
		}
		a.pinch = true
	}
	if m.lim.table {
		a.over[SideA] = m.overTable(b, after, before, SideA)
		a.over[SideB] = m.overTable(b, before, after, SideB)
	}
	return a
}

// all are the first and last of all heats.
func (m *model) all() [2]int { return [2]int{0, len(m.heats) - 1} }

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
	return float64(math.Abs(b.turn.angle)*reach) + float64(math.Abs(b.turn.roll)*off) + b.shift(), reach
}

// shift is how far the end of the heated glass comes from where it is while straight.
func (b *formed) shift() float64 { return b.exit.o.Sub(geom.Point3{X: b.length}).Norm() }

// inFire looks for glass near the heated zone before the bend. Glass less than a
// quarter circle of the fire distance away along the tube is the zone's own.
func (m *model) inFire(b *formed, before, after []group) *group {
	if m.lim.fire == 0 {
		return nil
	}
	lo, hi := geom.Point3{X: b.zone[0]}, geom.Point3{X: b.zone[1]}
	mid, half := lo.Lerp(hi, 0.5), (b.zone[1]-b.zone[0])/2
	own := math.Pi / 2 * m.lim.fire
	look := func(gs []group, shift float64) *group {
		for k := range gs {
			g := &gs[k]
			c := g.centre
			c.X += shift
			if g.touching || c.Dist(mid) > g.radius+half+m.lim.fire {
				continue
			}
			m.work += len(g.pts)
			for i := 1; i < len(g.pts); i++ {
				s := min(math.Abs(g.at[i]-b.start-b.length/2), math.Abs(g.at[i-1]-b.start-b.length/2)) - half
				if s < own {
					continue
				}
				p, q := g.pts[i-1], g.pts[i]
				p.X, q.X = p.X+shift, q.X+shift
				if segmentDistance(lo, hi, p, q) < m.lim.fire-2*sagitta {
					return g
				}
			}
		}
		return nil
	}
	if g := look(before, 0); g != nil {
		return g
	}
	return look(after, b.length)
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
		m.work += len(swings)
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
