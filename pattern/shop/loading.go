package shop

import (
	"errors"
	"fmt"
	"strings"

	"tubewright/pattern/finding"
	"tubewright/pattern/shop/load"
	q "tubewright/pattern/shop/quantity"
)

// loading is the sheet of supplies and wiring.
func (m *maker) loading() []Section {
	out := []Section{m.cautions("loading", m.anyMercury())}
	for i := range m.circuits {
		out = append(out, m.circuitSection(i), m.wiringSection(i))
	}
	return append(out, m.neighbourSection(), m.branchSection(), m.limitSection())
}

func circuitName(i int) string { return fmt.Sprintf("C%d", i+1) }

func (m *maker) circuitSection(i int) Section {
	c := m.circuits[i]
	s := Section{ID: "loading-" + circuitName(i), Title: "Loading of circuit " + circuitName(i), Sheet: "loading"}
	var ids []string
	for _, u := range c.Units {
		ids = append(ids, m.units[u].ID)
	}
	s.add(said("units in series", strings.Join(ids, ", ")))
	s.add(by(fig("glass", c.Glass, q.Metre, 4), "painted runs and legs included", "", "D"))
	s.add(by(fig("pairs of electrodes", q.Int(len(c.Units), q.Piece), q.Piece, 0), "one a unit", "", "D"))
	m.chartFigures(&s, c)
	m.otherCharts(&s, c)
	if c.HasRating() {
		m.supplyFigures(&s, c)
	}
	return s
}

// chartFigures prints the answer of the chart the job names.
func (m *maker) chartFigures(s *Section, c Circuit) {
	k, a := m.chart, c.Answer
	s.add(by(fig("pair allowance of chart "+k.ID, k.PairAllowance, q.MetrePerPiece, 4), "of this chart only", k.Source, k.Grade))
	s.add(by(fig("electrical length, chart "+k.ID, a.Electrical, q.Metre, 4), "glass + pairs × allowance", k.Source, k.Grade))
	if !c.HasRating() {
		s.add(by(said("least supply, chart "+k.ID, "NOT KNOWN"), c.Refusal, k.Source, k.Grade))
		s.note("no-rating", finding.Warning, "no rating: "+c.Refusal, c.Remedy, "")
		if !k.HasBody() {
			s.add(by(fig("footage to look for in the supply's own chart", a.Electrical, q.Foot, 1), "glass + 1 ft a pair, rows of the same gas and tube", k.Source, k.Grade))
		}
		return
	}
	if !a.Exact.IsZero() {
		s.add(by(fig("kilovolts before rounding", a.Exact, q.Kilovolt, 4), "electrical length × factor of the chart", k.Source, k.Grade))
	}
	how := "least rating that covers it"
	if a.How != "" {
		how += "; " + a.How + ": NOT a printed figure"
	}
	s.add(by(fig("least supply, chart "+k.ID, a.Rating, q.Kilovolt, 1), how, k.Source, k.Grade))
	s.add(by(fig("which carries", a.Carries, q.Metre, 2), "of electrical length", k.Source, k.Grade))
	s.add(by(fig("share of its rating", a.Share, q.Percent, 0), "carried of what it may", "", "D"))
	light := m.tables.Row("settings", "least-share")
	switch {
	case a.IsUnder():
		s.note("load-under", finding.Warning, fmt.Sprintf("under the least load of chart %s: %s of electrical length, at least %s", k.ID, a.Electrical.Format(q.Metre, 2), a.Least.Format(q.Metre, 2)), "put units together, or take a smaller supply", cite(k.Source, k.Grade))
	case a.Least.IsZero() && a.Share.Less(light.Number("value", q.Percent)):
		s.note("load-light", finding.Note, fmt.Sprintf("light load: %s of the rating, the least there is for it. Supplies have a least load too [S35a, P] and chart %s states none", a.Share.Format(q.Percent, 0), k.ID), "look up the least load of the supply in hand", cite(light.Source(), light.Grade()))
	}
	if line, ok := k.FitLine(c.Gas, m.diameter); ok && q.Of("0.5", q.Kilovolt).Less(line.Miss) {
		s.note("chart-misprint", finding.Warning, fmt.Sprintf("chart %s: the row of %s lies %s off the straight line of its column", k.ID, line.At.Format(q.Kilovolt, 1), line.Miss.Format(q.Kilovolt, 2)), "look for a misprint in the chart", "[D]")
	}
	if a.How != "" {
		s.note("interpolated", finding.Note, "the chart has no column for this tube: the rating is interpolated, "+a.How, "take a tube that the chart has, or the chart of the supply in hand", "")
	}
}

func cite(source, grade string) string { return q.Figure{Source: source, Grade: grade}.Cite() }

// otherCharts prints what the other charts say of the same circuit, each by its
// own allowance, and warns where two lie two sizes or more apart.
func (m *maker) otherCharts(s *Section, c Circuit) {
	for _, id := range m.tables.Table("charts").Keys() {
		k, err := load.Find(m.tables, id)
		if err != nil || id == m.chart.ID || !k.HasBody() || k.IsElectronic != m.chart.IsElectronic {
			continue
		}
		a, err := m.ask(k, c.Gas, c.Glass, len(c.Units))
		name := "for comparison, chart " + id
		if err != nil {
			s.add(by(said(name, "none"), err.Error(), k.Source, k.Grade))
			continue
		}
		rule := a.Electrical.Format(q.Metre, 4) + " electrical"
		if !a.Exact.IsZero() {
			rule += ", " + a.Exact.Format(q.Kilovolt, 4) + " before rounding"
		}
		s.add(by(fig(name, a.Rating, q.Kilovolt, 1), rule, k.Source, k.Grade))
		if !c.HasRating() {
			continue
		}
		apart := a.Rating.Sub(c.Answer.Rating)
		if apart = apart.Max(apart.Times(-1, 1)); !apart.Less(q.Int(2, q.Kilovolt)) {
			s.note("charts-apart", finding.Note, fmt.Sprintf("charts %s and %s differ by %s for this circuit", m.chart.ID, id, apart.Format(q.Kilovolt, 1)), "ask the maker of the supply, or take the larger", "")
		}
	}
}

// supplyFigures prints what follows from the rating.
func (m *maker) supplyFigures(s *Section, c Circuit) {
	sup := m.supply(c)
	s.add(by(fig("size", sup.VoltAmperes(), q.VoltAmpere, 0), "rating × rated current", "S32a", "D"))
	if most := q.Int(4500, q.VoltAmpere); most.Less(sup.VoltAmperes()) {
		s.note("supply-large", finding.Warning, "over 4,500 VA, the most one supply may have", "take a smaller current, or more circuits", "[S32a, P]")
	}
	s.add(by(fig("open-circuit peak", sup.Rating.Times(14, 10), q.Kilovolt, 1), "1.4 × rating", "", "C"))
	if !strings.HasPrefix(m.Place, "US") && m.Place != "CA" {
		s.add(by(said("ground-fault protection", "by the local code"), "exceptions read: USA, Canada", "", ""))
		return
	}
	need, why := sup.NeedsGroundFaultProtection(m.place.Number("isolated_limit_kv", q.Kilovolt))
	word := map[bool]string{true: "needed", false: "not needed"}[need]
	s.add(by(said("secondary ground-fault protection", word), why, "S76 S77", "P"))
}

func (m *maker) wiringSection(i int) Section {
	c := m.circuits[i]
	s := Section{ID: "wiring-" + circuitName(i), Title: "Wiring order of circuit " + circuitName(i), Sheet: "loading"}
	g := &Grid{Heads: []string{"Lead", "Unit", "Letters", "Side", "In-out", "Lead, mm", "Length, m"},
		Right: []bool{false, false, false, false, false, true, true}, Widths: []float64{9.8, 8.7, 14.5, 9, 13, 18.2, 19.3},
		By: []Rule{5: {"straight way and slack", "", "C"}, 6: {"electrical, chart " + m.chart.ID, m.chart.Source, m.chart.Grade}}}
	electrical := q.Int(0, q.Metre)
	for k, stop := range c.Stops {
		u := m.units[stop.Unit]
		e := m.chart.Electrical(u.Glass, 1)
		side := "–"
		if c.HasMidpoint {
			side = [...]string{"1", "2"}[b2i(stop.Second)]
		}
		electrical = electrical.Add(e)
		g.Rows = append(g.Rows, []q.Figure{word(fmt.Sprint(k + 1)), word(u.ID), word(u.Letters), word(side),
			word(stop.Enters() + " – " + stop.Leaves()), fig("lead", stop.Lead, q.Millimetre, 0), fig("electrical", e, q.Metre, 4)})
	}
	g.Total = []q.Figure{word("all"), word(""), word(""), word(""), word(""), fig("cable", c.Wire, q.Millimetre, 0), fig("electrical", electrical, q.Metre, 4)}
	s.Grid = g
	last := c.Stops[len(c.Stops)-1]
	s.add(by(fig(fmt.Sprintf("lead %d, back to the supply", len(c.Stops)+1), last.LeadAfter, q.Millimetre, 0), m.leadRule(c), "", "C"))
	if c.HasMidpoint {
		s.add(by(fig("midpoint return", c.MidLead, q.Millimetre, 0), "back to the grounded midpoint; halves to be equal", "S35c", "P"))
		share := c.Difference.Div(electrical)
		s.add(by(fig("side 1 and side 2 differ by", c.Difference, q.Metre, 4), fmt.Sprintf("%s of the circuit; %s", share.Format(q.Percent, 1), balanceWords(c)), "", "D"))
		if tenth := q.Int(10, q.Percent); tenth.Less(share) {
			s.note("unbalanced", finding.Warning, "the two sides of the midpoint differ by "+share.Format(q.Percent, 0)+" of the circuit: no share of these units is more equal", "split a unit, or use no midpoint return", "[C]")
		}
	} else if m.Supply == load.Midpoint {
		s.note("no-midpoint", finding.Note, "one unit has no middle joint: the midpoint return is not used", "", "[S35c, P]")
	}
	m.leadLimits(&s, c)
	if m.Supply == load.Electronic {
		m.electronicLeads(&s, c)
	}
	return s
}

func (m *maker) leadRule(c Circuit) string {
	at := "behind the middle"
	if m.SupplyAt != nil {
		at = "where the job puts it"
	}
	if c.IsMeasured {
		at = "as the job says, its first and last lead too"
	}
	rule := "supply " + at + "; straight ways + " + m.tables.Cell("settings", "lead-slack", q.Millimetre).Format(q.Millimetre, 0) + " an end; "
	if c.IsShortest {
		return rule + "shortest order"
	}
	return rule + "left to right, best ways round"
}

func balanceWords(c Circuit) string {
	switch {
	case c.InOrder && c.IsExact:
		return "the least there is; each side together"
	case c.InOrder:
		return fmt.Sprintf("each side together, within 1/%d of the least", nearBalance)
	case c.IsExact:
		return "the least there is, proved"
	}
	return "heaviest first; not proved the least"
}

// leadLimits warns of leads to a first electrode over the limits.
func (m *maker) leadLimits(s *Section, c Circuit) {
	last := c.Stops[len(c.Stops)-1]
	longest := c.Stops[0].Lead.Max(last.LeadAfter)
	metal, plastic := m.tables.Row("settings", "lead-metal"), m.tables.Row("settings", "lead-nonmetallic")
	switch {
	case m.Supply == load.Electronic:
	case m.Conduit == "non-metallic" && !plastic.Number("value", q.Metre).Less(longest):
	case plastic.Number("value", q.Metre).Less(longest):
		s.note("lead-long", finding.Warning, fmt.Sprintf("a lead to a first electrode is %s: over %s in non-metallic conduit and %s in metal", longest.Format(q.Metre, 2), plastic.Text("value")+" m", metal.Text("value")+" m"), "move the supply nearer", cite(plastic.Source(), plastic.Grade()))
	case metal.Number("value", q.Metre).Less(longest):
		s.note("lead-long", finding.Warning, fmt.Sprintf("a lead to a first electrode is %s: over %s in metal conduit", longest.Format(q.Metre, 2), metal.Text("value")+" m"), "move the supply nearer, or use non-metallic conduit", cite(metal.Source(), metal.Grade()))
	}
}

func (m *maker) electronicLeads(s *Section, c Circuit) {
	last := c.Stops[len(c.Stops)-1]
	a, b := c.Stops[0].Lead, last.LeadAfter
	if m.Conduit == "metal" {
		s.note("lead-conduit", finding.Warning, "the leads of an electronic supply never run in metal conduit", "take non-metallic conduit, or a magnetic supply", "[S47, P]")
	}
	limit := m.tables.Row("settings", "lead-electronic")
	if limit.Number("value", q.Metre).Less(a.Max(b)) {
		s.note("lead-long", finding.Warning, fmt.Sprintf("a lead of %s is over the %s m of an electronic supply", a.Max(b).Format(q.Metre, 2), limit.Text("value")), "move the supply nearer; never extend the lead", cite(limit.Source(), limit.Grade()))
	}
	if off := a.Sub(b); q.Int(50, q.Millimetre).Less(off.Max(off.Times(-1, 1))) {
		s.note("leads-unequal", finding.Warning, fmt.Sprintf("the leads of an electronic supply are to be of equal length, and are %s and %s", a.Format(q.Millimetre, 0), b.Format(q.Millimetre, 0)), "place the supply in the middle between the two ends", "[S47, P]")
	}
}

// mostNeighbours bounds the list on the sheet.
const mostNeighbours = 4

func (m *maker) neighbourSection() Section {
	s := Section{ID: "neighbours", Title: "Volts between neighbouring runs", Sheet: "loading"}
	list := m.neighbours()
	g := &Grid{Heads: []string{"Runs of", "Gap, mm", "Volts, V", "How"}, Right: []bool{false, true, true, false}, Widths: []float64{27, 17, 17, 30},
		By: []Rule{1: {"clear", "", "D"}, 2: {"gradient × glass + a fall a pair", "", "D"}, 3: {}}}
	end := m.tables.Row("supports", "end-gap")
	wide, names := 0, []string{}
	for i, n := range list {
		how := "one circuit"
		if !n.Circuit {
			how = "two circuits, open"
		}
		if i < mostNeighbours {
			g.Rows = append(g.Rows, []q.Figure{word(m.units[n.A].ID + " and " + m.units[n.B].ID), fig("gap", n.Gap, q.Millimetre, 0), fig("volts", n.Volts, q.Volt, 0), word(how)})
		}
		if n.Gap.Less(end.Number("value", q.Millimetre)) && q.Int(1, q.Kilovolt).Less(n.Volts) {
			wide++
			if wide <= 3 {
				names = append(names, m.units[n.A].ID+" and "+m.units[n.B].ID)
			}
		}
	}
	if len(list) == 0 {
		s.Lines = append(s.Lines, fmt.Sprintf("No two runs come within %g mm.", nearGap))
		return s
	}
	s.Grid = g
	e, row := m.gradient(m.circuits[0].Gas)
	if !e.IsZero() {
		s.add(by(fig("running gradient", e, q.KilovoltPerMetre, 2), fmt.Sprintf("chart %s at %s mm, the larger", row.Text("chart"), row.Text("diameter_mm")), row.Source(), row.Grade()))
	}
	s.Lines = append(s.Lines, "Before a tube strikes, up to the open-circuit volts.")
	if wide > 0 {
		s.note("volts-between", finding.Warning, fmt.Sprintf("%s of runs nearer than %s mm with more than 1 kV between them: %s", counted(wide, "pair"), end.Text("value"), strings.Join(names, "; ")), "set them wider, or change the order", "[S32b, P for live ends; C for glass]")
	}
	return s
}

func (m *maker) branchSection() Section {
	s := Section{ID: "branch", Title: "Branch circuits", Sheet: "loading"}
	volts, amperes := q.Int(m.MainsVolts, q.Volt), q.Int(m.MainsAmperes, q.Ampere)
	share := m.tables.Row("settings", "continuous")
	capacity := load.BranchCapacity(amperes, volts, share.Number("value", q.Percent))
	s.add(told(fig("mains", volts, q.Volt, 0)), told(fig("branch circuit", amperes, q.Ampere, 0)))
	s.add(by(fig("carries all day", capacity.Div(volts), q.Ampere, 1), share.Text("value")+" %, a US rule", share.Source(), share.Grade()))
	s.add(by(fig("which is", capacity, q.VoltAmpere, 0), "A × V", share.Source(), "D"))
	var inputs []q.Quantity
	var of []int
	for i, c := range m.circuits {
		if c.HasRating() {
			inputs, of = append(inputs, m.supply(c).VoltAmperes()), append(of, i)
		}
	}
	total := q.Sum(q.VoltAmpere, inputs...)
	branches, err := load.Branches(inputs, capacity)
	var refusal *load.Refusal
	if errors.As(err, &refusal) {
		s.note("branch", finding.Warning, refusal.Message, refusal.Remedy, "")
		return s
	}
	for i, b := range branches {
		var names []string
		for _, k := range b.Supplies {
			names = append(names, circuitName(of[k]))
		}
		s.add(by(fig(fmt.Sprintf("branch %d: %s", i+1, strings.Join(names, ", ")), b.Sum, q.VoltAmpere, 0), "output; take the nameplate's input", "", "D"))
	}
	if len(branches) > 1 {
		s.add(fig("all supplies", total, q.VoltAmpere, 0))
	}
	if len(inputs) < len(m.circuits) {
		s.note("branch-sum", finding.Warning, fmt.Sprintf("%d of %d circuits have no rating and are not in the sum", len(m.circuits)-len(inputs), len(m.circuits)), "find their ratings first", "")
	}
	return s
}

// limitSection prints the limits of the codes as reminders.
func (m *maker) limitSection() Section {
	s := Section{ID: "limits", Title: "Code limits: reminders only", Sheet: "loading"}
	kind := "magnetic"
	if m.Supply == load.Electronic {
		kind = "electronic"
	}
	for _, r := range m.tables.Table("limits").Rows {
		if a := r.Text("applies"); a == kind || a == "both" {
			s.add(by(said(r.Text("item"), r.Text("value")), "", r.Source(), r.Grade()))
		}
	}
	s.Lines = append(s.Lines, "Code of the place: "+m.place.Text("code")+".")
	return s
}
