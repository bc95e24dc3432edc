package shop

import (
	"cmp"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/shop/load"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/tube"
)

// Neighbour is two runs of glass that come near each other: of the pairs of
// places within the least distance of live ends, the one with the most running
// volts; and another one, where there is one, of the pairs further apart.
type Neighbour struct {
	A, B    int // units; the same for two runs of one
	Gap     q.Quantity
	Volts   q.Quantity
	Circuit bool // both are in one circuit; else Volts is of open circuits
}

// place is a sample of a unit's centreline.
type place struct {
	unit  int
	along float64 // mm of glass from electrode A
	p     geom.Point3
}

const (
	sampleStep = 15.0 // mm of glass between samples
	nearGap    = 60.0 // mm between glass and glass that is looked at
)

// neighbours lists pairs of runs within nearGap, most volts first.
func (m *maker) neighbours() []Neighbour {
	var places []place
	grid := map[[2]int][]int{}
	reach := nearGap + m.diameter.Float(q.Millimetre)
	cell := func(p geom.Point3) [2]int { return [2]int{int(math.Floor(p.X / reach)), int(math.Floor(p.Y / reach))} }
	for i, u := range m.p.Units {
		for _, s := range samples(i, u.Tube) {
			grid[cell(s.p)] = append(grid[cell(s.p)], len(places))
			places = append(places, s)
		}
	}
	at := m.potentials()
	limits := limits{reach, m.diameter.Float(q.Millimetre), m.tables.Cell("supports", "end-gap", q.Millimetre).Float(q.Millimetre)}
	worst := map[[3]int]nearest{}
	for i, a := range places {
		c := cell(a.p)
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, j := range grid[[2]int{c[0] + dx, c[1] + dy}] {
					if j > i {
						m.compare(worst, at, a, places[j], limits)
					}
				}
			}
		}
	}
	out := make([]Neighbour, 0, len(worst))
	for k, w := range worst {
		out = append(out, Neighbour{A: k[0], B: k[1], Circuit: at[k[0]].circuit == at[k[1]].circuit,
			Gap: q.FromFloat(w.gap, q.Millimetre, 0), Volts: q.FromFloat(w.volts, q.Volt, 0)})
	}
	slices.SortFunc(out, func(a, b Neighbour) int {
		return cmp.Or(b.Volts.Cmp(a.Volts), cmp.Compare(a.A, b.A), cmp.Compare(a.B, b.B), a.Gap.Cmp(b.Gap))
	})
	return out
}

func samples(unit int, t tube.Tube) []place {
	var out []place
	along := 0.0
	for _, p := range t {
		n := max(1, int(math.Ceil(p.Seg.Length()/sampleStep)))
		for k := range n {
			s := p.Seg.Length() * (float64(k) + 0.5) / float64(n)
			out = append(out, place{unit, along + s, p.Seg.PointAt(s)})
		}
		along += p.Seg.Length()
	}
	return out
}

// compare keeps the worst pair of two units.
func (m *maker) compare(worst map[[3]int]nearest, at []station, a, b place, limit limits) {
	dist := a.p.Dist(b.p)
	same := a.unit == b.unit
	if dist > limit.reach || same && math.Abs(a.along-b.along) < 4*limit.reach {
		return // neighbours along one run are not two runs
	}
	n := nearest{gap: max(0, dist-limit.diameter)}
	if at[a.unit].circuit == at[b.unit].circuit {
		n.volts = between(at, a, b)
	} else {
		n.volts = m.openBetween(at[a.unit].circuit, at[b.unit].circuit).Float(q.Volt)
	}
	k := [3]int{min(a.unit, b.unit), max(a.unit, b.unit), b2i(n.gap < limit.ends)}
	if w, ok := worst[k]; !ok || w.volts < n.volts || w.volts == n.volts && n.gap < w.gap {
		worst[k] = n
	}
}

// limits are distances in mm: from centre to centre of glass that is near, the
// tube's diameter, and the least gap of live ends.
type limits struct{ reach, diameter, ends float64 }

// nearest is the gap in mm and the volts between two places. There may be
// millions to look at, so these are plain numbers.
type nearest struct{ gap, volts float64 }

// station is where a unit hangs in its circuit's string.
type station struct {
	circuit  int
	before   float64 // mm of glass between the first terminal and the unit
	pairs    int     // pairs of electrodes before it
	reversed bool
	glass    float64
	gradient float64 // V/mm, which is kV/m
	fall     float64 // V
}

func (m *maker) potentials() []station {
	out := make([]station, len(m.units))
	for ci, c := range m.circuits {
		e, _ := m.gradient(c.Gas)
		fall := m.fall(c.Gas)
		before := 0.0
		for k, s := range c.Stops {
			glass := m.units[s.Unit].Glass.Float(q.Millimetre)
			out[s.Unit] = station{ci, before, k, s.Reversed, glass, e.Float(q.KilovoltPerMetre), fall.Float(q.Volt)}
			before += glass
		}
	}
	return out
}

func (s station) along(at float64) float64 {
	if s.reversed {
		at = s.glass - at
	}
	return s.before + at
}

// between returns the running volts between two places of one circuit: gradient
// times the glass between, and a fall for each pair of electrodes between.
func between(at []station, a, b place) float64 {
	sa, sb := at[a.unit], at[b.unit]
	glass := math.Abs(sa.along(a.along) - sb.along(b.along))
	pairs := sa.pairs - sb.pairs
	return float64(sa.gradient*glass) + float64(sa.fall*float64(max(pairs, -pairs)))
}

// openBetween returns the most volts between two circuits, open: half the sum of
// the ratings where the midpoints are grounded, else the sum.
func (m *maker) openBetween(a, b int) q.Quantity {
	sum := q.Int(0, q.Kilovolt)
	for _, i := range []int{a, b} {
		if c := m.circuits[i]; c.HasRating() {
			sum = sum.Add(c.Answer.Rating)
		}
	}
	if m.Supply == load.Midpoint {
		return sum.Times(1, 2)
	}
	return sum
}

// gradient returns the largest running gradient among the charts for a gas and
// the tube: of each chart its widest column that is not wider than the tube, a
// narrower column being the higher; 0 kV/m for a gas without a chart.
func (m *maker) gradient(gas string) (q.Quantity, table.Row) {
	best, from := q.Int(0, q.KilovoltPerMetre), table.Row{}
	for _, r := range m.gradientRows(gas) {
		if v := r.Number("kv_per_m", q.KilovoltPerMetre); best.Less(v) {
			best, from = v, r
		}
	}
	return best, from
}

// gradientRows returns each chart's row for a gas and the tube.
func (m *maker) gradientRows(gas string) []table.Row {
	var out []table.Row
	diameter := func(r table.Row) q.Quantity { return r.Number("diameter_mm", q.Millimetre) }
	for _, chart := range m.tables.Table("gradients").Keys() {
		var found *table.Row
		for _, r := range m.tables.Table("gradients").Rows {
			if r.Text("chart") != chart || r.Text("gas") != gas {
				continue
			}
			fits := diameter(r).Cmp(m.diameter) <= 0
			switch {
			case found == nil,
				fits && (m.diameter.Less(diameter(*found)) || diameter(*found).Less(diameter(r))),
				!fits && diameter(r).Less(diameter(*found)):
				found = &r
			}
		}
		if found != nil {
			out = append(out, *found)
		}
	}
	return out
}

// fall returns the most electrode fall of a pair, in volts.
func (m *maker) fall(gas string) q.Quantity {
	if gas == "argon" {
		return m.tables.Cell("settings", "fall-argon-high", q.Volt)
	}
	return m.tables.Cell("settings", "fall-neon", q.Volt)
}
