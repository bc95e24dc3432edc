package shop

import (
	"fmt"
	"strings"

	"tubewright/pattern/finding"
	"tubewright/pattern/shop/load"
	"tubewright/pattern/shop/process"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
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
	s := Section{ID: "manifold", Title: "Manifold groups: like size and gas", Sheet: "process"}
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
		s.add(by(said(k, strings.Join(groups[k], ", ")), "unlike size, unlike pressure", "S4", "P"))
	}
	m.jobFigures(&s)
	if m.anyMercury() {
		m.mercuryJob(&s)
		m.cold(&s)
	}
	s.Lines = append(s.Lines, "Test: less current than the band is an overload, more a light load [S7, C]; volts to 5 to 10 % [D].")
	return s
}

func (m *maker) mercuryJob(s *Section) {
	total := m.allMercury()
	s.add(by(fig("mercury, all units, at most", total, q.Milligram, 1), "sum of the ceilings on the cards: good practice, the exemption behind it ended in 2018; keep it for the year's total", "S36 S108", "D"))
	if m.Sets > 1 {
		s.add(by(fig("mercury, all sets, at most", total.Times(int64(m.Sets), 1), q.Milligram, 1), fmt.Sprintf("%d sets", m.Sets), "", "D"))
	}
	s.add(by(said("mercury law, "+m.place.Text("name"), m.place.Text("mercury")), "", m.place.Source(), m.place.Grade()))
	s.add(by(span("mercury in trade practice, a unit", q.Int(135, q.Milligram), q.Int(541, q.Milligram), q.Milligram, 0), "10 to 40 microlitre by length and climate; the sources disagree", "S40", "P"))
	if m.Place == "US-LA" {
		s.note("mercury-law", finding.Warning, "Louisiana: 10 mg a tube is the limit, below what works", "see the exemption of the sign trade, or take a colour without mercury", "[S83, P]")
	}
}

// allMercury sums the ceilings of the units.
func (m *maker) allMercury() q.Quantity {
	total := q.Int(0, q.Milligram)
	for _, u := range m.units {
		if m.mercury(u) {
			total = total.Add(m.dose(u).Ceiling)
		}
	}
	return total
}

// dose returns the mercury ceiling of a unit, to a tenth of a milligram so that
// sums are sums of what is printed.
func (m *maker) dose(u Unit) process.Mercury {
	d := process.MercuryCeiling(m.tables, u.Glass, 1, m.isCool())
	d.Ceiling = d.Ceiling.Round(q.Milligram, 1)
	return d
}

// isCool reports whether the sign hangs outdoors or below 20 °C, which is where
// the greater dose of mercury holds (S108).
func (m *maker) isCool() bool {
	return !m.Indoors || m.ambient != nil && m.ambient.Less(q.Int(20, q.Celsius))
}

func (m *maker) cold(s *Section) {
	limit := m.tables.Row("settings", "cold")
	least := limit.Number("value", q.Celsius)
	switch {
	case m.ambient == nil && !m.Indoors:
		s.note("cold-unknown", finding.Note, fmt.Sprintf("mercury colours dim in the cold: the charts hold above %s only, and the job states no least temperature", least.Format(q.Celsius, 0)), `state it in the job, as in ambient = "-10"`, cite(limit.Source(), limit.Grade()))
	case m.ambient != nil && m.ambient.Less(least):
		s.note("cold", finding.Warning, fmt.Sprintf("cold climate: %s is under the %s above which mercury colours and their charts hold", m.ambient.Format(q.Celsius, 0), least.Format(q.Celsius, 0)), "promise no bright colour in winter, or take one without mercury", cite(limit.Source(), limit.Grade()))
	}
}

func (m *maker) stageSection() Section {
	s := Section{ID: "stages", Title: "Stages", Sheet: "process"}
	for _, r := range m.tables.Table("stages").Rows {
		var words []string
		for _, c := range []string{"what", "published"} {
			if r.Has(c) {
				words = append(words, r.Text(c))
			}
		}
		s.add(by(said(r.Text("stage")+" "+r.Text("name"), strings.Join(words, "; ")), "", r.Source(), r.Grade()))
		s.Own = append(s.Own, r.Text("own"))
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

// card is the processing card of one unit: what differs from unit to unit, with
// rules in short; the rest stands on the sheet of the job.
func (m *maker) card(i int) Section {
	u := m.units[i]
	s := Section{ID: "card-" + u.ID, Title: "Card " + u.ID + ": " + u.Letters, Sheet: "process", Unit: u.ID}
	fill := m.fill()
	volume := process.Volume(process.Bore(m.diameter, m.wall), u.Glass)
	s.add(fill)
	for k, p := range u.Spans {
		name := "colour, glass"
		if k > 0 {
			name = fmt.Sprintf("then, for %s", p.Length.Format(q.Millimetre, 1))
		}
		s.add(said(name, p.Colour+", "+p.Glass))
	}
	g, _ := m.tables.Table("gases").Find(u.Gas)
	s.add(by(said("gas", g.Text("name")), "", g.Source(), g.Grade()))
	for _, f := range [4]q.Figure{fig("glass", u.Glass, q.Millimetre, 1), fig("of it lit", u.Lit, q.Millimetre, 1), fig("hidden", u.Hidden, q.Millimetre, 1), fig("legs", u.Leg, q.Millimetre, 1)} {
		s.add(by(f, "", "", measured.Grade))
	}
	s.add(by(fig("volume", volume, q.Millilitre, 1), "π/4 bore² × glass", "S107", "D"))
	s.add(by(fig("inside surface", process.Surface(process.Bore(m.diameter, m.wall), u.Glass), q.SquareCentimetre, 0), "π bore × glass", "S107", "D"))
	s.add(by(fig("gas taken in", fill.Value.Mul(volume), q.TorrMillilitre, 0), "pressure × volume", "", "D"))
	if m.mercury(u) {
		m.mercuryFigures(&s, u)
	}
	m.testFigures(&s, i)
	s.Blanks = []string{"glass code", "electrodes", "bombard °C", "bombard mA", "glow s", "micron left", "cold at °C", "fill Torr",
		"Hg mg", "aged h", "test mA", "test kV", "room °C", "pumped by", "filled by", "tested by"}
	return s
}

// fill is the fill pressure, cold: one tube, one pressure.
func (m *maker) fill() q.Figure {
	p := process.FillPressure(m.tables, m.diameter)
	how := "as printed"
	if !p.Printed {
		how = "by the law p × D"
	}
	return by(fig("FILL, cold", p.Value, q.Torr, 1), how+"; "+p.Value.Format(q.Millibar, 1), p.Source, p.Grade)
}

// glassHabit says how a glass behaves in the fire.
func (m *maker) glassHabit(glass string) string {
	g, _ := m.tables.Table("glasses").Find(glass)
	words := m.glassWords(glass)
	if g.Has("anneal_c") && g.Has("soften_c") {
		words += fmt.Sprintf("; anneal %s, soften %s °C", g.Text("anneal_c"), g.Text("soften_c"))
	}
	if g.Has("habit") {
		words += "; " + g.Text("habit")
	}
	return words
}

// jobFigures prints what holds for all cards.
func (m *maker) jobFigures(s *Section) {
	for _, k := range m.glassKinds() {
		g, _ := m.tables.Table("glasses").Find(k.Glass)
		s.add(by(said(k.Colour, m.glassHabit(k.Glass)), "", g.Source(), g.Grade()))
	}
	source, grade := "", "C"
	if m.wallRow != nil {
		source, grade = m.wallRow.Source(), m.wallRow.Grade()
	}
	s.add(by(fig("bore", process.Bore(m.diameter, m.wall), q.Millimetre, 1), "outside less two walls", source, grade))
	law := m.tables.Row("settings", "pressure-law")
	s.add(by(fig("law of the fill pressure, p × D", law.Number("value", q.TorrMillimetre), q.TorrMillimetre, 0), "as printed but at 8 mm", law.Source(), law.Grade()))
	s.add(by(span("other published pressures, 18 to 24 mm", q.Int(6, q.Torr), q.Int(9, q.Torr), q.Torr, 0), "the shop's own goes first", "S25", "P"))
	s.add(by(span("and 10 to 30 mm", q.Int(3, q.Torr), q.Int(16, q.Torr), q.Torr, 0), "", "S23", "P"))
}

func (m *maker) mercuryFigures(s *Section, u Unit) {
	d := m.dose(u)
	word := "indoor"
	if m.isCool() {
		word = "outdoor"
	}
	pair := m.tables.Row("settings", "mercury-"+word+"-pair")
	rule := pair.Text("value") + " mg a pair + " + m.tables.Row("settings", "mercury-"+word+"-length").Text("value") + " mg/cm"
	if d.Capped {
		rule = "the cap, less than " + rule
	}
	s.add(by(fig("CONTAINS Hg, at most", d.Ceiling, q.Milligram, 1), rule, pair.Source(), pair.Grade()))
	density := m.tables.Row("settings", "mercury-density")
	s.add(by(fig("as one bead", process.Bead(d.Ceiling, density.Number("value", q.GramPerCubicCentimetre)), q.Millimetre, 1), density.Text("value")+" g/cm³", density.Source(), density.Grade()))
}

// testFigures prints what the test should read: current as a share of the
// rating, and volts by the gradients of both charts.
func (m *maker) testFigures(s *Section, i int) {
	low, high := m.tables.Row("settings", "pass-low"), m.tables.Row("settings", "pass-high")
	ma := func(r table.Row) q.Quantity { return m.current.Mul(r.Number("value", q.Percent)) }
	s.add(by(span("pass current", ma(low), ma(high), q.Milliampere, 1), fmt.Sprintf("%s to %s %% of %d mA", low.Text("value"), high.Text("value"), m.Current), "S7", "D"))
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
	s.add(by(span("volts, unit", least, most, q.Kilovolt, 2), "gradient × glass + fall", "S20 S21", "D"))
	if c.HasRating() {
		lo, hi := load.RunningShare(high.Number("value", q.Percent).Float(q.One)), load.RunningShare(low.Number("value", q.Percent).Float(q.One))
		band := func(k float64) q.Quantity { return c.Answer.Rating.Mul(q.FromFloat(k, q.One, 4)) }
		s.add(by(span("volts, circuit "+fmt.Sprint(circuit+1), band(lo), band(hi), q.Kilovolt, 2), "rating × √(1 − (mA / rated)²)", "S7", "D"))
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
