package shop

import (
	"fmt"
	"slices"

	"tubewright/pattern/finding"
	"tubewright/pattern/shop/load"
	"tubewright/pattern/shop/process"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// materials is the sheet of what the job takes.
func (m *maker) materials() []Section {
	out := []Section{m.cautions("materials", m.anyMercury()), m.unitSection()}
	out = append(out, m.glassSections()...)
	return append(out, m.electrodeSection(), m.supportSection(), m.sundrySection())
}

func (m *maker) unitSection() Section {
	s := Section{ID: "units", Title: "Units, mm of glass", Sheet: "materials"}
	g := &Grid{Heads: []string{"Unit", "Letters", "lit", "hidden", "legs", "glass", "bends", "sticks", "welds", "supports"},
		Right: []bool{false, false, true, true, true, true, true, true, true, true}, Widths: []float64{9, 19, 12, 12, 11, 13, 9, 9, 9, 12},
		By: []Rule{2: measured, 3: measured, 4: measured, 5: measured, 6: measured, 7: measured, 8: measured, 9: measured}}
	mm := func(v q.Quantity) q.Figure { return fig("length", v, q.Millimetre, 1) }
	n := func(k int) q.Figure { return fig("count", q.Int(k, q.Piece), q.Piece, 0) }
	for _, u := range m.units {
		g.Rows = append(g.Rows, []q.Figure{word(u.ID), word(u.Letters), mm(u.Lit), mm(u.Hidden), mm(u.Leg), mm(u.Glass),
			n(u.bends()), n(u.Sticks), n(u.Welds), n(u.Support)})
	}
	g.Total = []q.Figure{word("all"), word(""),
		mm(m.sum(func(u Unit) q.Quantity { return u.Lit })), mm(m.sum(func(u Unit) q.Quantity { return u.Hidden })),
		mm(m.sum(func(u Unit) q.Quantity { return u.Leg })), mm(m.sum(func(u Unit) q.Quantity { return u.Glass })),
		n(m.count(Unit.bends)), n(m.count(func(u Unit) int { return u.Sticks })),
		n(m.count(func(u Unit) int { return u.Welds })), n(m.count(func(u Unit) int { return u.Support }))}
	s.Grid = g
	s.Lines = append(s.Lines, "Welds: two electrodes a unit, one between sticks [S11, P / D]; none in a bend, within 2 D of one, or under a support [C].")
	return s
}

func (u Unit) bends() int {
	n := 0
	for _, c := range u.Bends {
		n += c.N
	}
	return n
}

// glassSections list the sticks of each colour and kind of glass, and how they are cut.
func (m *maker) glassSections() []Section {
	long := q.FromFloat(m.p.Spec.Rules.Stick, q.Millimetre, 1)
	cut, hold, scrap := m.tables.Row("settings", "cut-waste"), m.tables.Row("settings", "hold"), m.tables.Row("prices", "scrap")
	var out []Section
	for _, k := range m.glassKinds() {
		s := Section{ID: "sticks-" + k.Colour + "-" + k.Glass, Title: "Sticks: " + k.Colour + ", " + k.Glass, Sheet: "materials"}
		s.add(by(fig("stick as bought", long, q.Millimetre, 0), "setting", "S40b S17", "P"))
		s.add(by(fig("lost at a cut", cut.Number("value", q.Millimetre), q.Millimetre, 0), "table settings", cut.Source(), cut.Grade()))
		if slices.ContainsFunc(m.units, func(u Unit) bool { return len(m.planned(u.ID)) == 0 }) {
			s.add(by(fig("held at each end and cut off", hold.Number("value", q.Millimetre), q.Millimetre, 0), "units without a bend plan: whole sticks and a rest", hold.Source(), hold.Grade()))
		}
		s.add(by(fig("glass, seal to seal", k.Length, q.Metre, 4), "all units", "", "D"))
		if n := m.cuts(&s, k, long); n > 0 {
			m.bought += n
			spare := q.Int(n, q.Piece).Mul(scrap.Number("value", q.Percent)).Ceil(q.Piece)
			s.add(by(fig("spare for scrap", q.Int(spare, q.Piece), q.Piece, 0), scrap.Text("value")+" %", scrap.Source(), scrap.Grade()))
			s.add(by(fig("ends held, cuts, off-cuts: sticks less glass", q.Int(n, q.One).Mul(long).Sub(k.Length), q.Metre, 4), "", "", "D"))
		}
		g, _ := m.tables.Table("glasses").Find(k.Glass)
		m.massFigure(&s, k, g)
		out = append(out, s)
	}
	return out
}

// glassKinds sums the spans of all units by colour and glass, in the order they
// are met.
func (m *maker) glassKinds() []Span {
	var out []Span
	for _, u := range m.units {
		for _, p := range u.Spans {
			i := slices.IndexFunc(out, func(o Span) bool { return o.Colour == p.Colour && o.Glass == p.Glass })
			if i < 0 {
				i = len(out)
				out = append(out, Span{p.Colour, p.Glass, q.Int(0, q.Millimetre)})
			}
			out[i].Length = out[i].Length.Add(p.Length)
		}
	}
	return out
}

func (m *maker) massFigure(s *Section, k Span, g table.Row) {
	if !g.Has("density_g_cm3") {
		s.add(by(said("mass", "not known"), "no density in glasses.csv", "", ""))
		return
	}
	per := process.MassPerMetre(m.diameter, m.wall, g.Number("density_g_cm3", q.GramPerCubicCentimetre))
	s.add(by(fig("mass", per.Mul(k.Length), q.Kilogram, 2), per.Format(q.GramPerMetre, 1)+", density × ring", g.Source(), "D"))
}

// electrode returns the smallest class that carries the supply's current.
func (m *maker) electrode() (table.Row, bool) {
	var best *table.Row
	for _, r := range m.tables.Table("electrodes").Rows {
		most := r.Number("most_ma", q.Milliampere)
		if !most.Less(m.current) && (best == nil || most.Less(best.Number("most_ma", q.Milliampere))) {
			best = &r
		}
	}
	if best == nil {
		return table.Row{}, false
	}
	return *best, true
}

func (m *maker) electrodeSection() Section {
	s := Section{ID: "electrodes", Title: "Electrodes and housings", Sheet: "materials"}
	n := 2 * len(m.units)
	s.add(by(fig("electrodes", q.Int(n, q.Piece), q.Piece, 0), "two a unit, one of them tubulated", "S28", "P"))
	s.add(told(fig("rated current of the supply", m.current, q.Milliampere, 0)))
	for _, r := range m.tables.Table("electrode-classes").Rows {
		if r.Number("diameter_mm", q.Millimetre).Cmp(m.diameter) == 0 {
			class := r.Number("class_ma", q.Milliampere)
			s.add(by(fig("class by diameter, "+r.Text("school"), class, q.Milliampere, 0), "", r.Source(), r.Grade()))
			running := m.current.Mul(m.tables.Cell("settings", "running-share", q.Percent))
			if class.Less(running.Round(q.Milliampere, 0)) {
				s.note("class-low", finding.Warning, fmt.Sprintf("a supply of %d mA runs at about %s: more than the %s that the %s gives this tube", m.Current, running.Format(q.Milliampere, 0), class.Format(q.Milliampere, 0), r.Text("school")), "take a smaller current, or a wider tube", cite(r.Source(), r.Grade()))
			}
		}
	}
	e, ok := m.electrode()
	if !ok {
		s.note("no-electrode", finding.Error, fmt.Sprintf("no electrode in the table carries %d mA: the supply's current must not exceed the electrode's rating", m.Current), "take a smaller current, or add the electrode to electrodes.csv", "[S21, P]")
		return s
	}
	s.add(by(said("class", e.Text("name")), "least that carries it", "S21", "P"))
	if m.current.Less(e.Number("least_ma", q.Milliampere)) {
		s.note("current-low", finding.Warning, "the supply's current is under the least of this electrode", "take a smaller electrode", cite(e.Source(), e.Grade()))
	}
	s.add(by(span("overall length", e.Number("length_least_mm", q.Millimetre), e.Number("length_most_mm", q.Millimetre), q.Millimetre, 0), "measure one", e.Source(), e.Grade()))
	jacket := e.Number("jacket_mm", q.Millimetre)
	if jacket.Less(m.diameter) {
		jacket = m.diameter
	}
	gap := m.tables.Row("supports", "housing-clearance")
	hole := jacket.Add(gap.Number("value", q.Millimetre).Times(2, 1))
	s.add(by(fig("housing hole", hole, q.Millimetre, 1), "jacket or D + "+gap.Text("value")+" mm a side", gap.Source(), gap.Grade()))
	s.add(by(fig("housings and caps", q.Int(n, q.Piece), q.Piece, 0), "one an electrode", "", "C"))
	return s
}

func (m *maker) supportSection() Section {
	s := Section{ID: "supports", Title: "Supports", Sheet: "materials"}
	gapName := "surface-gap"
	if m.Supply == load.Electronic {
		gapName = "surface-gap-electronic"
	}
	gap := m.tables.Row("supports", gapName)
	spacing, near := m.tables.Row("supports", "support-spacing"), m.tables.Row("supports", "support-electrode")
	s.add(by(fig("supports", q.Int(m.count(func(u Unit) int { return u.Support }), q.Piece), q.Piece, 0), fmt.Sprintf("at most %s mm apart: mounting sheet", spacing.Text("value")), spacing.Source(), spacing.Grade()))
	s.add(by(fig("from an electrode, most", near.Number("value", q.Millimetre), q.Millimetre, 0), "clear of bends; free to move", near.Source(), near.Grade()))
	s.add(by(fig("tube to surface, least", gap.Number("value", q.Millimetre), q.Millimetre, 0), "", gap.Source(), gap.Grade()))
	most := q.Int(0, q.Millimetre)
	uneven := false
	for i, u := range m.units {
		h := SupportHeight(gap.Number("value", q.Millimetre), m.diameter, u.Deepest)
		uneven = uneven || i > 0 && h.Cmp(most) != 0
		most = most.Max(h)
	}
	s.add(by(fig("front centre above surface", most, q.Millimetre, 1), "that + D/2 + deepest back run", gap.Source(), "D"))
	s.add(by(fig("face above surface", most.Add(m.diameter.Times(1, 2)), q.Millimetre, 1), "D/2 more", "", "D"))
	for _, h := range m.supportHeights(most) {
		s.add(by(fig("tube centre at "+h.height.Format(q.Millimetre, 0), q.Int(h.n, q.Piece), q.Piece, 0), "supports of that height", "", "D"))
	}
	if uneven {
		s.note("depths", finding.Note, "units differ in depth: one height of front centre for all, the greatest", "", "")
	}
	return s
}

// heightCount is how many supports hold the tube's centre at a height, to the mm.
type heightCount struct {
	height q.Quantity
	n      int
}

// supportHeights counts supports by the height of the tube's centre over the
// surface where they stand, the highest first: a back run is held lower than the
// front.
func (m *maker) supportHeights(front q.Quantity) []heightCount {
	var out []heightCount
	for _, p := range m.supports {
		h := front.Add(q.FromFloat(p.At.Z, q.Millimetre, 3)).Round(q.Millimetre, 0)
		i := slices.IndexFunc(out, func(c heightCount) bool { return c.height.Cmp(h) == 0 })
		if i < 0 {
			i = len(out)
			out = append(out, heightCount{height: h})
		}
		out[i].n++
	}
	slices.SortFunc(out, func(a, b heightCount) int { return b.height.Cmp(a.height) })
	return out
}

// SupportHeight returns how high the centre of the front glass stands over the
// surface: the gap, half a tube, and the depth of the deepest back run's centre
// behind it (depth stack of S33g's gap, D).
func SupportHeight(gap, outside, depth q.Quantity) q.Quantity {
	return gap.Add(outside.Times(1, 2)).Add(depth)
}

func (m *maker) sundrySection() Section {
	s := Section{ID: "sundries", Title: "Cable, paint, gas", Sheet: "materials"}
	wire := q.Int(0, q.Millimetre)
	class := q.Int(0, q.Kilovolt)
	for _, c := range m.circuits {
		wire = wire.Add(c.Wire)
		if c.HasRating() {
			class = class.Max(c.Answer.Rating)
		}
	}
	s.add(by(fig("high-voltage cable", wire, q.Metre, 3), "sum of the leads", "", "C"))
	cable := "by the supply's open-circuit volts"
	for _, k := range []int{5, 10, 15} {
		if !class.IsZero() && !q.Int(k, q.Kilovolt).Less(class) {
			cable = fmt.Sprintf("%d kV", k)
			break
		}
	}
	s.add(by(said("cable class", cable), "not under the supply", "S33c", "P"))
	s.add(by(fig("paint: hidden runs", m.sum(func(u Unit) q.Quantity { return u.Hidden }), q.Millimetre, 1), "front and sides, after ageing", "S45 S116", "P"))
	over := m.tables.Row("settings", "paint-overlap")
	ends := m.count(func(u Unit) int { return 2 * u.HiddenRuns })
	extra := m.diameter.Mul(over.Number("value", q.One)).Times(int64(ends), 1)
	s.add(by(fig("paint: overlap on lit", extra, q.Millimetre, 1), fmt.Sprintf("%s D at %d ends", over.Text("value"), ends), over.Source(), over.Grade()))
	s.add(by(fig("paint: area", process.Surface(m.diameter, m.paintLength()), q.SquareCentimetre, 0), "π D × length", "", "D"))
	return s
}

// paintLength is the length painted out, overlaps included.
func (m *maker) paintLength() q.Quantity {
	ends := m.count(func(u Unit) int { return 2 * u.HiddenRuns })
	over := m.tables.Cell("settings", "paint-overlap", q.One)
	return m.sum(func(u Unit) q.Quantity { return u.Hidden }).Add(m.diameter.Mul(over).Times(int64(ends), 1))
}
