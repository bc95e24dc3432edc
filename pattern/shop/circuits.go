package shop

import (
	"errors"

	"tubewright/geom"
	"tubewright/pattern/shop/load"
	q "tubewright/pattern/shop/quantity"
)

// Circuit is the units in series on one supply.
type Circuit struct {
	Units      []int // in the order of the pattern
	Stops      []Stop
	Gas        string // column of the charts: neon or argon; "" for none
	Glass      q.Quantity
	Answer     load.Answer
	Refusal    string // why the chart gives no rating, "" where it does
	Remedy     string // what to do about that
	Difference q.Quantity
	IsExact    bool // the balance is proved the least
	InOrder    bool // each side of the midpoint is a run of neighbours
	Wire       q.Quantity
	MidLead    q.Quantity
	IsMeasured bool // its first and last lead are as the job says
	IsShortest bool // the order is proved the shortest for this balance
	// At is where the supply stands; HasMidpoint says that the middle of the
	// string goes back to it.
	At          geom.Point3
	HasMidpoint bool
}

// Stop is a unit in the order of the wiring.
type Stop struct {
	Unit      int
	Reversed  bool // current from the first terminal enters at electrode B
	Second    bool // on the second side of the midpoint
	Lead      q.Quantity
	LeadAfter q.Quantity // of the last stop: back to the supply
}

// Enters and Leaves return the electrodes in the order of the wiring.
func (s Stop) Enters() string { return [...]string{"A", "B"}[b2i(s.Reversed)] }
func (s Stop) Leaves() string { return [...]string{"B", "A"}[b2i(s.Reversed)] }

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}

// HasRating reports whether the chart gave a rating.
func (c Circuit) HasRating() bool { return c.Refusal == "" }

// Supply returns the supply of the circuit by its nameplate.
func (m *maker) supply(c Circuit) load.Supply {
	return load.Supply{Kind: m.Supply, Rating: c.Answer.Rating, Current: m.current}
}

// share shares the units out to circuits: all of one circuit read the same column
// of the chart, and stand side by side in the order of the pattern.
func (m *maker) share() {
	column := func(u Unit) string {
		g, _ := m.tables.Table("gases").Find(u.Gas)
		return g.Text("chart_gas")
	}
	for start := 0; start < len(m.units); {
		end := start
		for end < len(m.units) && column(m.units[end]) == column(m.units[start]) {
			end++
		}
		m.shareRun(start, end, column(m.units[start]))
		start = end
	}
}

func (m *maker) shareRun(start, end int, gas string) {
	answer := func(i, j int) (load.Answer, error) {
		glass := q.Int(0, q.Millimetre)
		for _, u := range m.units[start+i : start+j] {
			glass = glass.Add(u.Glass)
		}
		return m.ask(m.chart, gas, glass, j-i)
	}
	var weight []int64
	for _, u := range m.units[start:end] {
		weight = append(weight, weightOf(m.chart.Electrical(u.Glass, 1)))
	}
	runs := [][2]int{{0, end - start}}
	if _, err := m.ask(m.chart, gas, q.Int(1, q.Centimetre), 1); err == nil {
		// A column that carries something: else every unit alone would be refused.
		runs = load.Split(weight, func(i, j int) bool { _, err := answer(i, j); return err == nil })
	}
	for _, r := range runs {
		c := Circuit{Gas: gas, Glass: q.Int(0, q.Millimetre)}
		for i := r[0]; i < r[1]; i++ {
			c.Units = append(c.Units, start+i)
			c.Glass = c.Glass.Add(m.units[start+i].Glass)
		}
		var err error
		var refusal *load.Refusal
		if c.Answer, err = answer(r[0], r[1]); errors.As(err, &refusal) {
			c.Refusal, c.Remedy = refusal.Message, refusal.Remedy
		}
		m.wire(&c, weight[r[0]:r[1]])
		m.circuits = append(m.circuits, c)
	}
}

// ask puts a demand to a chart. A chart of one kind of supply says nothing
// about the other.
func (m *maker) ask(c load.Chart, gas string, glass q.Quantity, pairs int) (load.Answer, error) {
	if c.IsElectronic != (m.Supply == load.Electronic) {
		kind := map[bool]string{true: "electronic", false: "magnetic"}
		return load.Answer{Chart: c.ID, Electrical: c.Electrical(glass, pairs)}, &load.Refusal{
			Message: "chart " + c.ID + " is for " + kind[c.IsElectronic] + " supplies, and the job asks for a supply that is " + m.Supply.String(),
			Remedy:  "enter the maker's own chart in charts.csv and chart-limits.csv and name it",
		}
	}
	if gas == "" {
		return load.Answer{Chart: c.ID, Electrical: c.Electrical(glass, pairs)}, &load.Refusal{
			Message: "no loading chart read covers this gas", Remedy: "ask the maker of the supply",
		}
	}
	return c.Answer(load.Demand{Gas: gas, Diameter: m.diameter, Glass: glass, Pairs: pairs, Interpolate: m.Interpolate, MostKV: m.mostKV()})
}

// nearBalance is the part of a circuit by which the two sides may differ more than
// they must, where both sides then stay together and the leads short (C).
const nearBalance = 50 // one in so many

// wire finds the order of the series string: both sides of the midpoint as equal
// as can be, then the least wire for that.
func (m *maker) wire(c *Circuit, weight []int64) {
	total := int64(0)
	for _, w := range weight {
		total += w
	}
	second, diff, exact := load.Balance(weight)
	if near, d := load.Neighbours(weight); d <= diff || d-diff <= total/nearBalance {
		second, diff, c.InOrder = near, d, true
		exact = exact && d == diff
	}
	if m.Supply != load.Midpoint {
		// No midpoint to balance: one string, and its way is all that counts.
		second, diff, exact, c.InOrder = make([]bool, len(weight)), total, true, true
	}
	c.Difference, c.IsExact = q.Int(int(diff), q.Millimetre).Times(1, 10), exact
	var sides [2][]int
	for i, u := range c.Units {
		sides[b2i(second[i])] = append(sides[b2i(second[i])], u)
	}
	ends := make([][2]geom.Point3, len(m.p.Units))
	for i, u := range m.p.Units {
		ends[i] = [2]geom.Point3{u.Electrodes[0].At, u.Electrodes[1].At}
	}
	at := m.supplyPlace(*c, ends)
	c.At, c.HasMidpoint = at, m.Supply == load.Midpoint && len(c.Units) > 1
	c.IsShortest = true
	here := at
	for side, units := range sides {
		stops, _, shortest := load.Order(units, ends, here, at)
		c.IsShortest = c.IsShortest && shortest
		for _, s := range stops {
			in, out := ends[s.Unit][b2i(s.Reversed)], ends[s.Unit][1-b2i(s.Reversed)]
			c.Stops = append(c.Stops, Stop{Unit: s.Unit, Reversed: s.Reversed, Second: side == 1, Lead: m.lead(here, in)})
			here = out
		}
		if side == 0 {
			c.MidLead = m.lead(here, at)
		}
	}
	c.Wire = q.Int(0, q.Millimetre)
	if n := len(c.Stops); n > 0 {
		c.Stops[n-1].LeadAfter = m.lead(here, at)
		for _, s := range c.Stops {
			c.Wire = c.Wire.Add(s.Lead)
		}
		c.Wire = c.Wire.Add(c.Stops[n-1].LeadAfter)
	}
	if c.HasMidpoint {
		c.Wire = c.Wire.Add(c.MidLead)
	}
}

// lead returns the cable between two places: the straight distance and some at
// each end, to the millimetre.
func (m *maker) lead(a, b geom.Point3) q.Quantity {
	slack := m.tables.Cell("settings", "lead-slack", q.Millimetre).Times(2, 1)
	return q.FromFloat(a.Dist(b), q.Millimetre, 0).Add(slack)
}

// supplyPlace returns where the supply of a circuit stands: where the job says,
// else behind the middle of the circuit's electrodes.
func (m *maker) supplyPlace(c Circuit, ends [][2]geom.Point3) geom.Point3 {
	z := 0.0
	box := geom.EmptyRect()
	for _, u := range c.Units {
		for _, e := range ends[u] {
			box = box.Including(e.Plan())
			z = min(z, e.Z)
		}
	}
	at := box.Centre()
	if m.SupplyAt != nil {
		at = *m.SupplyAt
	}
	return geom.Point3{X: at.X, Y: at.Y, Z: z}
}
