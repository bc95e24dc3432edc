package shop

import (
	"fmt"
	"strings"

	"tubewright/pattern/finding"
	"tubewright/pattern/shop/load"
	"tubewright/pattern/shop/process"
	q "tubewright/pattern/shop/quantity"
)

// processing is the sheet of the manifold: what holds for the job, then a card
// a unit.
func (m *maker) processing() []Section {
	out := []Section{m.cautions("process", m.anyMercury()), m.groupSection(), m.stageSection()}
	for i := range m.units {
		out = append(out, m.card(i))
	}
	return append(out, m.faultSection())
}

// groupSection lists the units that can hang on one manifold, and the mercury.
func (m *maker) groupSection() Section {
	s := Section{ID: "manifold", Title: "Manifold groups: like diameter and gas only", Sheet: "process"}
	var order []string
	groups := map[string][]string{}
	for _, u := range m.units {
		k := m.diameter.Format(q.Millimetre, 1) + ", " + u.Gas
		if groups[k] == nil {
			order = append(order, k)
		}
		groups[k] = append(groups[k], u.ID)
	}
	for _, k := range order {
		s.add(by(said(k, strings.Join(groups[k], ", ")), "neighbours of unlike size take unlike pressure", "S4", "P"))
	}
	if m.anyMercury() {
		m.mercuryJob(&s)
		m.cold(&s)
	}
	return s
}

func (m *maker) mercuryJob(s *Section) {
	total := q.Int(0, q.Milligram)
	for _, u := range m.units {
		if m.mercury(u) {
			total = total.Add(m.dose(u).Ceiling)
		}
	}
	s.add(by(fig("mercury, all units, at most", total, q.Milligram, 1), "sum of the ceilings; keep it for the year's total", "S36 S108", "D"))
	if m.Sets > 1 {
		s.add(by(fig("mercury, all sets, at most", total.Times(int64(m.Sets), 1), q.Milligram, 1), fmt.Sprintf("%d sets", m.Sets), "", "D"))
	}
	s.add(by(said("mercury law, "+m.place.Text("name"), m.place.Text("mercury")), "", m.place.Source(), m.place.Grade()))
	s.add(by(said("mercury in trade practice", "135 to 541 mg (10 to 40 microlitre) by length and climate"), "the sources disagree: the ceiling here is good practice, not a law in force", "S40", "P"))
	if m.Place == "US-LA" {
		s.note(finding.Warning, "Louisiana: 10 mg a tube is the limit, below what works; see the exemption", "[S83, P]")
	}
}

// dose returns the mercury ceiling of a unit, to a tenth of a milligram so that
// sums are sums of what is printed.
func (m *maker) dose(u Unit) process.Mercury {
	d := process.MercuryCeiling(m.tables, u.Glass, 1, !m.Indoors)
	d.Ceiling = d.Ceiling.Round(q.Milligram, 1)
	return d
}

func (m *maker) cold(s *Section) {
	limit := m.tables.Row("settings", "cold")
	least := limit.Number("value", q.Celsius)
	switch {
	case m.ambient == nil && !m.Indoors:
		s.note(finding.Warning, fmt.Sprintf("mercury colours dim in the cold: the charts hold above %s only, and the job states no least temperature", least.Format(q.Celsius, 0)), cite(limit.Source(), limit.Grade()))
	case m.ambient != nil && m.ambient.Less(least):
		s.note(finding.Warning, fmt.Sprintf("cold climate: %s is under the %s above which mercury colours and their charts hold; promise no bright blue, or take neon", m.ambient.Format(q.Celsius, 0), least.Format(q.Celsius, 0)), cite(limit.Source(), limit.Grade()))
	}
}

func (m *maker) stageSection() Section {
	s := Section{ID: "stages", Title: "Stages: published ranges, and the shop's own figure", Sheet: "process"}
	for _, r := range m.tables.Table("stages").Rows {
		text := r.Text("what")
		if r.Has("published") {
			text += ". Published: " + r.Text("published")
		}
		name := r.Text("stage") + " " + r.Text("name")
		s.add(by(said(name, text), "", r.Source(), r.Grade()))
		s.Blanks = append(s.Blanks, name)
	}
	return s
}

func (m *maker) faultSection() Section {
	s := Section{ID: "faults", Title: "Faults and what they mean", Sheet: "process"}
	for _, r := range m.tables.Table("faults").Rows {
		s.add(by(said(r.Text("fault"), r.Text("likely")+": "+r.Text("remedy")), "", r.Source(), r.Grade()))
	}
	return s
}

// card is the processing card of one unit.
func (m *maker) card(i int) Section {
	u := m.units[i]
	s := Section{ID: "card-" + u.ID, Title: "Processing card " + u.ID, Sheet: "process", Unit: u.ID}
	s.add(said("letters", u.Letters))
	for k, p := range u.Spans {
		name := "colour"
		if k > 0 {
			name = fmt.Sprintf("then, for %s", p.Length.Format(q.Millimetre, 1))
		}
		s.add(said(name, m.colourWords(p.Colour)), said("glass", m.glassHabit(p.Glass)))
	}
	bore := process.Bore(m.diameter, m.wall)
	s.add(by(fig("glass, seal to seal", u.Glass, q.Millimetre, 1), "lit "+u.Lit.Number(q.Millimetre, 1)+" + hidden "+u.Hidden.Number(q.Millimetre, 1)+" + legs "+u.Leg.Number(q.Millimetre, 1), "", ""))
	s.add(by(fig("bore", bore, q.Millimetre, 1), "outside less two walls", "S107", "P"))
	s.add(by(fig("volume", process.Volume(bore, u.Glass), q.Millilitre, 1), "π/4 × bore² × glass; electrodes not counted", "", "D"))
	s.add(by(fig("inside surface", process.Surface(bore, u.Glass), q.SquareCentimetre, 0), "π × bore × glass", "", "D"))
	m.fillFigures(&s, u, bore)
	if m.mercury(u) {
		m.mercuryFigures(&s, u)
	}
	m.testFigures(&s, i)
	s.Blanks = []string{"glass maker and code", "electrodes, type and mA", "bombarded to, °C", "bombarding, mA", "shells at full glow, s", "vacuum before fill, micron",
		"glass at fill, °C", "fill, Torr", "mercury, mg", "aged, h", "test, mA", "test, kV", "room, °C", "pumped by", "tested by"}
	return s
}

func (m *maker) glassHabit(glass string) string {
	g, _ := m.tables.Table("glasses").Find(glass)
	words := m.glassWords(glass)
	if g.Has("anneal_c") && g.Has("soften_c") {
		words += fmt.Sprintf("; anneal %s, soften %s °C %s", g.Text("anneal_c"), g.Text("soften_c"), cite(g.Source(), g.Grade()))
	}
	if g.Has("habit") {
		words += "; " + g.Text("habit")
	}
	return words
}

func (m *maker) fillFigures(s *Section, u Unit, bore q.Quantity) {
	g, _ := m.tables.Table("gases").Find(u.Gas)
	s.add(by(said("gas", g.Text("name")+". "+g.Text("note")), "", g.Source(), g.Grade()))
	p := process.FillPressure(m.tables, m.diameter)
	rule := "printed for this diameter; law p × D = " + m.tables.Row("settings", "pressure-law").Text("value") + " Torr·mm"
	if !p.Printed {
		rule = "by the law p × D = " + m.tables.Row("settings", "pressure-law").Text("value") + " Torr·mm: no printed row for this diameter"
	}
	s.add(by(fig("fill pressure, cold", p.Value, q.Torr, 1), rule, p.Source, p.Grade))
	s.add(by(fig("the same", p.Value, q.Millibar, 1), "", "", "D"))
	s.add(by(said("other published pressures", "6 to 9 Torr at 18 to 24 mm [S25, P]; 3 to 16 Torr over 10 to 30 mm [S23, P]"), "they disagree: the shop's own figure goes first", "", ""))
	s.add(by(fig("gas taken in", p.Value.Mul(process.Volume(bore, u.Glass)), q.TorrMillilitre, 0), "pressure × volume", "", "D"))
}

func (m *maker) mercuryFigures(s *Section, u Unit) {
	d := m.dose(u)
	where := "indoors: 15 mg a pair + 0.24 mg/cm"
	if !m.Indoors {
		where = "outdoors: 20 mg a pair + 0.3 mg/cm"
	}
	if d.Capped {
		where += ", held to the cap of 80 mg"
	}
	s.add(by(fig("CONTAINS Hg: dose at most", d.Ceiling, q.Milligram, 1), "good-practice ceiling, "+where+"; the exemption behind it ended in 2018", "S36 S108", "P"))
	density := m.tables.Row("settings", "mercury-density")
	s.add(by(fig("as one bead, diameter", process.Bead(d.Ceiling, density.Number("value", q.GramPerCubicCentimetre)), q.Millimetre, 1), "ball of "+density.Text("value")+" g/cm³", density.Source(), "D"))
}

// testFigures prints what the test should read: current as a share of the
// rating, and volts by the gradients of both charts.
func (m *maker) testFigures(s *Section, i int) {
	low, high := m.tables.Row("settings", "pass-low"), m.tables.Row("settings", "pass-high")
	ma := func(share q.Quantity) string { return m.current.Mul(share).Number(q.Milliampere, 1) }
	s.add(by(said("test current on the job's supply: pass from", ma(low.Number("value", q.Percent))+" to "+ma(high.Number("value", q.Percent))+" mA"),
		fmt.Sprintf("%s to %s %% of %d mA: less is overload, more is a light load", low.Text("value"), high.Text("value"), m.Current), "S7", "D"))
	u := m.units[i]
	c, circuit := m.circuitOf(i)
	rows := m.gradientRows(c.Gas)
	if len(rows) == 0 {
		s.add(by(said("expected volts", "not known"), "no gradient for this gas", "", ""))
		return
	}
	var least, most q.Quantity
	for k, r := range rows {
		v := r.Number("kv_per_m", q.KilovoltPerMetre).Mul(u.Glass)
		if k == 0 {
			least, most = v, v
		}
		least, most = least.Min(v), most.Max(v)
	}
	least, most = least.Add(m.leastFall(c.Gas)), most.Add(m.fall(c.Gas))
	s.add(by(said("expected running volts of this unit", least.Number(q.Kilovolt, 2)+" to "+most.Format(q.Kilovolt, 2)), "gradients of charts A and B × glass + one electrode fall", "S20 S21", "D"))
	if c.HasRating() {
		lo, hi := load.RunningShare(high.Number("value", q.Percent).Float(q.One)), load.RunningShare(low.Number("value", q.Percent).Float(q.One))
		band := func(k float64) string { return c.Answer.Rating.Mul(q.FromFloat(k, q.One, 4)).Number(q.Kilovolt, 2) }
		s.add(by(said("expected volts of circuit "+circuitName(circuit), band(lo)+" to "+band(hi)+" kV"), "rating × √(1 − share of current²) at the ends of the pass band; a square-ish voltage shifts it by 5 to 10 %", "S7", "D"))
	}
}

func (m *maker) leastFall(gas string) q.Quantity {
	if gas == "argon" {
		return m.tables.Cell("settings", "fall-argon-low", q.Volt)
	}
	return m.fall(gas)
}

// circuitOf returns the circuit of a unit and its number from 0.
func (m *maker) circuitOf(unit int) (Circuit, int) {
	for i, c := range m.circuits {
		for _, u := range c.Units {
			if u == unit {
				return c, i
			}
		}
	}
	panic("shop: a unit without a circuit")
}
