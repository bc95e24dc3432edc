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
	m.jobFigures(&s)
	if m.anyMercury() {
		m.mercuryJob(&s)
		m.cold(&s)
	}
	s.Lines = append(s.Lines, "Test: less current than the pass band is an overload, more is a light load [S7, D]. Running volts by the gradients of charts A and B; the volts of a circuit at the ends of the pass band, give or take 5 to 10 %.")
	return s
}

func (m *maker) mercuryJob(s *Section) {
	total := q.Int(0, q.Milligram)
	for _, u := range m.units {
		if m.mercury(u) {
			total = total.Add(m.dose(u).Ceiling)
		}
	}
	s.add(by(fig("mercury, all units, at most", total, q.Milligram, 1), "sum of the ceilings on the cards: good practice, the exemption behind it ended in 2018; keep it for the year's total", "S36 S108", "D"))
	if m.Sets > 1 {
		s.add(by(fig("mercury, all sets, at most", total.Times(int64(m.Sets), 1), q.Milligram, 1), fmt.Sprintf("%d sets", m.Sets), "", "D"))
	}
	s.add(by(said("mercury law, "+m.place.Text("name"), m.place.Text("mercury")), "", m.place.Source(), m.place.Grade()))
	s.add(by(said("mercury in trade practice", "135 to 541 mg (10 to 40 microlitre) by length and climate"), "the sources disagree", "S40", "P"))
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

// card is the processing card of one unit: what differs from unit to unit, with
// rules in short; the rest stands on the sheet of the job.
func (m *maker) card(i int) Section {
	u := m.units[i]
	s := Section{ID: "card-" + u.ID, Title: "Card " + u.ID + ": " + u.Letters, Sheet: "process", Unit: u.ID}
	for k, p := range u.Spans {
		name := "colour, glass"
		if k > 0 {
			name = fmt.Sprintf("then, for %s", p.Length.Format(q.Millimetre, 1))
		}
		s.add(said(name, p.Colour+", "+p.Glass))
	}
	g, _ := m.tables.Table("gases").Find(u.Gas)
	s.add(by(said("gas", g.Text("name")), "", g.Source(), g.Grade()))
	bore := process.Bore(m.diameter, m.wall)
	volume := process.Volume(bore, u.Glass)
	s.add(by(fig("glass", u.Glass, q.Millimetre, 1), "lit "+u.Lit.Number(q.Millimetre, 1)+", hidden "+u.Hidden.Number(q.Millimetre, 1)+", legs "+u.Leg.Number(q.Millimetre, 1), "", ""))
	s.add(by(fig("volume", volume, q.Millilitre, 1), "π/4 bore² × glass", "S107", "D"))
	s.add(by(fig("inside surface", process.Surface(bore, u.Glass), q.SquareCentimetre, 0), "π bore × glass", "S107", "D"))
	p := process.FillPressure(m.tables, m.diameter)
	how := "printed for this size"
	if !p.Printed {
		how = "by the law p × D"
	}
	s.add(by(fig("FILL, cold", p.Value, q.Torr, 1), how+"; "+p.Value.Format(q.Millibar, 1), p.Source, p.Grade))
	s.add(by(fig("gas taken in", p.Value.Mul(volume), q.TorrMillilitre, 0), "pressure × volume", "", "D"))
	if m.mercury(u) {
		m.mercuryFigures(&s, u)
	}
	m.testFigures(&s, i)
	s.Blanks = []string{"glass maker, code", "electrodes, mA", "bombarded to, °C", "bombarding, mA", "shells at glow, s", "vacuum, micron",
		"glass at fill, °C", "fill, Torr", "mercury, mg", "aged, h", "test, mA", "test, kV", "room, °C", "pumped by", "tested by"}
	return s
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
		s.add(said("colour", m.colourWords(k.Colour)), by(said("glass", m.glassHabit(k.Glass)), "", g.Source(), g.Grade()))
	}
	source, grade := "", "C"
	if m.wallRow != nil {
		source, grade = m.wallRow.Source(), m.wallRow.Grade()
	}
	s.add(by(fig("bore", process.Bore(m.diameter, m.wall), q.Millimetre, 1), "outside less two walls; electrodes add a little volume", source, grade))
	law := m.tables.Row("settings", "pressure-law")
	s.add(by(fig("law of the fill pressure, p × D", law.Number("value", q.TorrMillimetre), q.TorrMillimetre, 0), "holds for the printed pressures but that of 8 mm", law.Source(), law.Grade()))
	s.add(by(said("other published pressures", "6 to 9 Torr at 18 to 24 mm [S25, P]; 3 to 16 Torr over 10 to 30 mm [S23, P]; they disagree: the shop's own figure goes first"), "", "", ""))
}

func (m *maker) mercuryFigures(s *Section, u Unit) {
	d := m.dose(u)
	word := "indoor"
	if !m.Indoors {
		word = "outdoor"
	}
	pair := m.tables.Row("settings", "mercury-"+word+"-pair")
	rule := pair.Text("value") + " mg a pair + " + m.tables.Row("settings", "mercury-"+word+"-length").Text("value") + " mg/cm"
	if d.Capped {
		rule = "the cap, less than " + rule
	}
	s.add(by(fig("CONTAINS Hg, at most", d.Ceiling, q.Milligram, 1), rule, pair.Source(), pair.Grade()))
	density := m.tables.Row("settings", "mercury-density")
	s.add(by(fig("as one bead", process.Bead(d.Ceiling, density.Number("value", q.GramPerCubicCentimetre)), q.Millimetre, 1), density.Text("value")+" g/cm³", density.Source(), "D"))
}

// testFigures prints what the test should read: current as a share of the
// rating, and volts by the gradients of both charts.
func (m *maker) testFigures(s *Section, i int) {
	low, high := m.tables.Row("settings", "pass-low"), m.tables.Row("settings", "pass-high")
	ma := func(share q.Quantity) string { return m.current.Mul(share).Number(q.Milliampere, 1) }
	s.add(by(said("test current, pass", ma(low.Number("value", q.Percent))+"-"+ma(high.Number("value", q.Percent))+" mA"),
		fmt.Sprintf("%s to %s %% of %d mA", low.Text("value"), high.Text("value"), m.Current), "S7", "D"))
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
	s.add(by(said("running volts, unit", least.Number(q.Kilovolt, 2)+" to "+most.Format(q.Kilovolt, 2)), "gradient × glass + fall", "S20 S21", "D"))
	if c.HasRating() {
		lo, hi := load.RunningShare(high.Number("value", q.Percent).Float(q.One)), load.RunningShare(low.Number("value", q.Percent).Float(q.One))
		band := func(k float64) string { return c.Answer.Rating.Mul(q.FromFloat(k, q.One, 4)).Number(q.Kilovolt, 2) }
		s.add(by(said("running volts, "+circuitName(circuit), band(lo)+" to "+band(hi)+" kV"), "rating × √(1 − share²)", "S7", "D"))
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
