package shop

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/pattern/finding"
	"tubewright/pattern/shop/load"
	"tubewright/pattern/shop/process"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/stick"
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
		Right: []bool{false, false, true, true, true, true, true, true, true, true}, Widths: []float64{9, 19, 12, 12, 11, 13, 9, 9, 9, 12}}
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
	s.Lines = append(s.Lines, "Welds: two electrodes a unit and one between sticks [S11, P / D]. No weld in a bend, within about 2 D of one, under a support [C].")
	return s
}

func (u Unit) bends() int {
	n := 0
	for _, c := range u.Bends {
		n += c.N
	}
	return n
}

// glassSections list the sticks by colour and kind of glass, and how they are cut.
func (m *maker) glassSections() []Section {
	s := Section{ID: "glass", Title: "Sticks by colour and glass", Sheet: "materials"}
	long := q.FromFloat(m.p.Spec.Rules.Stick, q.Millimetre, 1)
	cut, hold := m.tables.Row("settings", "cut-waste"), m.tables.Row("settings", "hold")
	s.add(by(fig("stick as bought", long, q.Millimetre, 0), "setting of the job", "S40b S17", "P"))
	s.add(by(fig("lost at a cut", cut.Number("value", q.Millimetre), q.Millimetre, 0), cut.Text("meaning"), cut.Source(), cut.Grade()))
	if slices.ContainsFunc(m.units, func(u Unit) bool { return len(m.planned(u.ID)) == 0 }) {
		s.add(by(fig("held at each end and cut off", hold.Number("value", q.Millimetre), q.Millimetre, 0), hold.Text("meaning"), hold.Source(), hold.Grade()))
		s.Lines = append(s.Lines, "Units without a bend plan are cut by a simple rule, whole sticks and a rest: where a bend plan places the welds, its cut list goes first.")
	}
	scrap := m.tables.Row("prices", "scrap")
	out := []Section{s}
	for _, k := range m.glassKinds() {
		g, _ := m.tables.Table("glasses").Find(k.Glass)
		name := fmt.Sprintf("%s, %s", k.Colour, k.Glass)
		out[0].add(by(fig(name+": glass", k.Length, q.Metre, 4), "seal to seal, all units", "", ""))
		n, cuts := m.cutSection(&out[0], k, long)
		if n == 0 {
			continue
		}
		m.bought += n
		out = append(out, cuts)
		spare := q.Int(n, q.Piece).Mul(scrap.Number("value", q.Percent)).Ceil(q.Piece)
		out[0].add(by(fig(name+": spare for scrap", q.Int(spare, q.Piece), q.Piece, 0), scrap.Text("value")+" % of the sticks", scrap.Source(), scrap.Grade()))
		off := q.Int(n, q.One).Mul(long).Sub(k.Length)
		out[0].add(by(fig(name+": ends held, cuts and off-cuts", off, q.Metre, 4), "sticks less glass in the units", "", "D"))
		m.massFigure(&out[0], name, k, g)
	}
	return out
}

// cutSection packs the pieces of a kind of glass into sticks, and lists them.
func (m *maker) cutSection(s *Section, k Span, long q.Quantity) (int, Section) {
	tenths := func(l q.Quantity) int { return l.Times(10, 1).Ceil(q.Millimetre) }
	name := fmt.Sprintf("%s, %s", k.Colour, k.Glass)
	out := Section{ID: "cuts-" + k.Colour + "-" + k.Glass, Title: "Cuts of " + name, Sheet: "materials"}
	var items []int
	var of []string
	for _, u := range m.units {
		for i, list := range m.pieces(u) {
			if u.Spans[i].Colour != k.Colour || u.Spans[i].Glass != k.Glass {
				continue
			}
			for _, p := range list {
				items, of = append(items, tenths(p)), append(of, u.ID)
			}
		}
	}
	kerf := m.tables.Cell("settings", "cut-waste", q.Millimetre)
	packed, err := stick.Pack(items, tenths(long), tenths(kerf))
	if err != nil {
		s.note(finding.Error, name+": a piece is longer than the stick: "+err.Error()+" tenths of a mm; take a longer stick, or let the bend plan weld", "")
		return 0, out
	}
	how := fmt.Sprintf("packed; at least %d are needed", packed.Bound)
	if packed.Exact {
		how = "packed; proved the least"
	}
	s.add(by(fig(name+": sticks", q.Int(len(packed.Sticks), q.Piece), q.Piece, 0), how, "", "D"))
	g := &Grid{Heads: []string{"Stick", "Cuts, mm", "Off-cut, mm"}, Right: []bool{false, false, true}, Widths: []float64{12, 76, 16}}
	total := q.Int(0, q.Millimetre)
	for i, list := range packed.Sticks {
		var words []string
		rest := long
		for _, item := range list {
			l := q.Int(items[item], q.Millimetre).Times(1, 10)
			words = append(words, of[item]+" "+l.Number(q.Millimetre, 1))
			rest = rest.Sub(l).Sub(kerf)
		}
		rest = rest.Max(q.Int(0, q.Millimetre))
		total = total.Add(rest)
		g.Rows = append(g.Rows, []q.Figure{word(fmt.Sprint(i + 1)), word(strings.Join(words, " + ")), fig("off-cut", rest, q.Millimetre, 1)})
	}
	g.Total = []q.Figure{word("all"), word(fmt.Sprintf("%s, %s lost at each", counted(len(items), "cut"), kerf.Format(q.Millimetre, 0))), fig("off-cut", total, q.Millimetre, 1)}
	out.Grid = g
	return len(packed.Sticks), out
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

func (m *maker) massFigure(s *Section, name string, k Span, g table.Row) {
	if !g.Has("density_g_cm3") {
		s.add(by(said(name+": mass", "not known"), "the table of glasses states no density", "", ""))
		return
	}
	per := process.MassPerMetre(m.diameter, m.wall, g.Number("density_g_cm3", q.GramPerCubicCentimetre))
	s.add(by(fig(name+": mass", per.Mul(k.Length), q.Kilogram, 2), per.Format(q.GramPerMetre, 1)+", density × ring", g.Source(), "D"))
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
	s.add(by(fig("rated current of the supply", m.current, q.Milliampere, 0), "setting", "", ""))
	for _, r := range m.tables.Table("electrode-classes").Rows {
		if r.Number("diameter_mm", q.Millimetre).Cmp(m.diameter) == 0 {
			class := r.Number("class_ma", q.Milliampere)
			s.add(by(fig("class by diameter, "+r.Text("school"), class, q.Milliampere, 0), "", r.Source(), r.Grade()))
			running := m.current.Mul(m.tables.Cell("settings", "running-share", q.Percent))
			if class.Less(running.Round(q.Milliampere, 0)) {
				s.note(finding.Warning, fmt.Sprintf("a supply of %d mA runs at about %s: more than the %s that the %s gives this tube", m.Current, running.Format(q.Milliampere, 0), class.Format(q.Milliampere, 0), r.Text("school")), cite(r.Source(), r.Grade()))
			}
		}
	}
	e, ok := m.electrode()
	if !ok {
		s.note(finding.Error, fmt.Sprintf("no electrode in the table carries %d mA: the supply's current must not exceed the electrode's rating; take a smaller current or add the electrode to electrodes.csv", m.Current), "[S21, P]")
		return s
	}
	s.add(by(said("class", e.Text("name")), "smallest whose rating is not under the supply's current", "S21", "P"))
	if m.current.Less(e.Number("least_ma", q.Milliampere)) {
		s.note(finding.Warning, "the supply's current is under the least of this electrode", cite(e.Source(), e.Grade()))
	}
	s.add(by(said("overall glass length", e.Text("length_least_mm")+" to "+e.Text("length_most_mm")+" mm"), "measure one and put it in electrodes.csv", e.Source(), e.Grade()))
	jacket := e.Number("jacket_mm", q.Millimetre)
	if jacket.Less(m.diameter) {
		jacket = m.diameter
	}
	gap := m.tables.Row("supports", "housing-clearance")
	hole := jacket.Add(gap.Number("value", q.Millimetre).Times(2, 1))
	s.add(by(fig("housings, a hole each of", hole, q.Millimetre, 1), "jacket, or the tube where it is wider, + "+gap.Text("value")+" mm each side; the housing in hand decides", gap.Source(), gap.Grade()))
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
	s.add(by(fig("supports", q.Int(m.count(func(u Unit) int { return u.Support }), q.Piece), q.Piece, 0), fmt.Sprintf("two or more a unit, at most %s mm apart; places on the mounting sheet", spacing.Text("value")), spacing.Source(), spacing.Grade()))
	s.add(by(fig("from an electrode at most", near.Number("value", q.Millimetre), q.Millimetre, 0), "clear of bends and welds; clips must let the tube move", near.Source(), near.Grade()))
	s.add(by(fig("tube to surface at least", gap.Number("value", q.Millimetre), q.Millimetre, 0), gap.Text("meaning"), gap.Source(), gap.Grade()))
	heights := map[string][]string{}
	var order []string
	most := q.Int(0, q.Millimetre)
	for _, u := range m.units {
		h := SupportHeight(gap.Number("value", q.Millimetre), m.diameter, u.Deepest)
		most = most.Max(h)
		k := h.Format(q.Millimetre, 1)
		if _, ok := heights[k]; !ok {
			order = append(order, k)
		}
		heights[k] = append(heights[k], u.ID)
	}
	s.add(by(fig("front centre above the surface, all units", most, q.Millimetre, 1), "gap + D/2 + depth of the deepest back run: one face for the whole sign", gap.Source(), "D"))
	s.add(by(fig("face of the glass above the surface", most.Add(m.diameter.Times(1, 2)), q.Millimetre, 1), "+ D/2", "", "D"))
	if len(order) > 1 {
		for _, k := range order {
			s.add(by(said("least for "+clipList(heights[k]), k), "", "", "D"))
		}
		s.note(finding.Note, "units differ in depth: supports set for the shallow ones would press back runs into the surface. Order one height, the greatest", "")
	}
	bend := q.FromFloat(m.p.Spec.Rules.CornerRadius, q.Millimetre, 1)
	s.Lines = append(s.Lines, "A bend into a straight leg reaches "+bend.Format(q.Millimetre, 1)+" behind the front centre before the leg stands square: where that is more than the height above, the panel needs a slot, not a round hole [D].")
	return s
}

// SupportHeight returns how high the centre of the front glass stands over the
// surface: the gap, half a tube, and the depth of the deepest back run's centre
// behind it (depth stack of S33g's gap, D).
func SupportHeight(gap, outside, depth q.Quantity) q.Quantity {
	return gap.Add(outside.Times(1, 2)).Add(depth)
}

// clipList joins names, and says how many more there are after six.
func clipList(names []string) string {
	const most = 6
	if len(names) <= most {
		return strings.Join(names, ", ")
	}
	return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
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
	s.add(by(fig("high-voltage cable", wire, q.Metre, 3), "sum of the leads, straight ways and slack", "", "C"))
	cable := "by the supply's open-circuit volts"
	for _, k := range []int{5, 10, 15} {
		if !class.IsZero() && !q.Int(k, q.Kilovolt).Less(class) {
			cable = fmt.Sprintf("%d kV", k)
			break
		}
	}
	s.add(by(said("cable class", cable), "5, 10 or 15 kV, not under the supply's rating", "S33c", "P"))
	s.add(by(fig("paint: hidden runs", m.sum(func(u Unit) q.Quantity { return u.Hidden }), q.Millimetre, 1), "front and sides, two coats, after ageing", "S45 S116", "P"))
	over := m.tables.Row("settings", "paint-overlap")
	ends := m.count(func(u Unit) int { return 2 * u.HiddenRuns })
	extra := m.diameter.Mul(over.Number("value", q.One)).Times(int64(ends), 1)
	s.add(by(fig("paint: overlap onto lit glass", extra, q.Millimetre, 1), fmt.Sprintf("%s D at each of %d ends", over.Text("value"), ends), over.Source(), over.Grade()))
	s.add(by(fig("paint: area", process.Surface(m.diameter, m.paintLength()), q.SquareCentimetre, 0), "π D × length", "", "D"))
	return s
}

// paintLength is the length painted out, overlaps included.
func (m *maker) paintLength() q.Quantity {
	ends := m.count(func(u Unit) int { return 2 * u.HiddenRuns })
	over := m.tables.Cell("settings", "paint-overlap", q.One)
	return m.sum(func(u Unit) q.Quantity { return u.Hidden }).Add(m.diameter.Mul(over).Times(int64(ends), 1))
}
