package order

import (
	"math"

	"tubewright/geom"
)

// floor returns a swing, mm, that no order of the heats can do without: the greatest
// of what each heat swings at least, whichever others are bent before it.
func (m *model) floor() float64 {
	out := 0.0
	for h := range m.heats {
		b := &m.heats[h]
		angle := math.Abs(float64(b.turn.angle))
		shift := b.shift()
		if float64(angle*(m.ends[1]-m.ends[0]))+shift <= out {
			continue
		}
		lo, hi := m.present(set{}, h) // in no state is there less glass
		before := m.leastReach(limb{f: identity(), at: b.start, next: h - 1, end: lo, side: -1})
		after := m.leastReach(limb{f: identity(), at: b.start + b.length, next: h + 1, end: hi, side: 1})
		out = max(out, float64(angle*min(before, after))+shift)
	}
	return out
}

// limb is one side of a heat as far as it is decided which of its heats are bent:
// glass up to at, of that up to end.
type limb struct {
	f     frame
	at    float64
	next  int // the next heat from the fire outwards
	end   float64
	side  float64 // −1 before the heat, 1 after it
	reach float64 // how far from the fire the glass comes, mm
}

// mostLimbs bounds how many limbs of one side are looked at; those that are left then
// reach at least as far as the least of them.
const mostLimbs = 300

// leastReach returns how far the glass of a side reaches from the fire at least,
// whichever of its heats are bent: the limb that reaches least is carried on, until
// it is whole.
func (m *model) leastReach(x limb) float64 {
	open := []limb{m.straightOf(x)}
	for n := 0; ; n++ {
		least := 0
		for i := range open {
			if open[i].reach < open[least].reach {
				least = i
			}
		}
		x := open[least]
		if x.next < 0 || x.next >= len(m.heats) || x.side*(x.end-x.at) < m.heats[x.next].length || n >= mostLimbs {
			return x.reach
		}
		open[least] = m.past(x, false)
		open = append(open, m.past(x, true))
	}
}

// straightOf carries a limb on over the straight up to its next heat.
func (m *model) straightOf(x limb) limb {
	gap := m.straight[min(x.next+1, len(m.heats))]
	if x.side > 0 {
		gap = m.straight[x.next]
	}
	step := max(0, min(gap, x.side*(x.end-x.at)))
	x.f, x.at = x.f.along(x.side*step), x.at+x.side*step
	x.reach = max(x.reach, x.f.o.Dist(geom.Point3{}))
	return x
}

// past carries a limb on past its next heat, bent or straight, and over the straight
// behind it.
func (m *model) past(x limb, bent bool) limb {
	b := &m.heats[x.next]
	switch {
	case !bent:
		x.f = x.f.along(x.side * b.length)
	case x.side > 0:
		x.f = x.f.then(b.exit)
	default:
		x.f = x.f.then(b.back)
	}
	x.at += x.side * b.length
	x.next += int(x.side)
	return m.straightOf(x)
}
