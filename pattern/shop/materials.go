package shop

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/pattern/bend"
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
		s.add(by(fig("lost at a cut", cut.Number("value", q.Millimetre), q.Millimetre, 0), "", cut.Source(), cut.Grade()))
		if slices.ContainsFunc(m.units, func(u Unit) bool { return len(m.planned(u.ID)) == 0 }) {
			s.add(by(fig("held at each end and cut off", hold.Number("value", q.Millimetre), q.Millimetre, 0), "units without a bend plan: whole sticks and a rest", hold.Source(), hold.Grade()))
		}
		s.add(by(fig("glass, seal to seal", k.Length, q.Metre, 4), "all units", "", ""))
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

// Cut is one piece of a unit, cut from a stick.
type Cut struct {
	Stick         int        // from 1, of its colour and glass; 0 for an off-cut from the rack
	Rack          q.Quantity // length of that off-cut
	Colour, Glass string
	Unit          string
	Length        q.Quantity
	OffCut        q.Quantity // left of the stick when all its pieces are cut
	from          int        // number of the stick or off-cut among those of its kind, from 0
}

// pack packs the pieces of a kind of glass into sticks.
func (m *maker) pack(k Span, long q.Quantity) ([]Cut, stick.Cutting, error) {
	tenths := func(l q.Quantity) int { return l.Times(10, 1).Ceil(q.Millimetre) }
	kerf := m.tables.Cell("settings", "cut-waste", q.Millimetre)
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
	stock := stick.Stock{Length: tenths(long), Kerf: tenths(kerf)}
	stock.OffCuts = m.offCuts(k)
	packed, err := stock.Cut(items)
	if err != nil {
		return nil, packed, err
	}
	var out []Cut
	cutFrom := func(list []int, first Cut, rest q.Quantity) {
		for _, item := range list {
			c := first
			c.Colour, c.Glass, c.Unit, c.Length = k.Colour, k.Glass, of[item], q.Int(items[item], q.Millimetre).Times(1, 10)
			out = append(out, c)
			rest = rest.Sub(c.Length).Sub(kerf)
		}
		for c := len(out) - len(list); c < len(out); c++ {
			out[c].OffCut = rest.Max(q.Int(0, q.Millimetre))
		}
	}
	for i, list := range packed.OffCuts {
		rack := q.Int(stock.OffCuts[i], q.Millimetre).Times(1, 10)
		cutFrom(list, Cut{Rack: rack, from: i}, rack)
	}
	for i, list := range packed.Sticks {
		cutFrom(list, Cut{Stick: i + 1, from: len(packed.OffCuts) + i}, long)
	}
	return out, packed, nil
}

// offCuts are the lengths in the rack, in tenths of a millimetre, that a kind of
// glass can be cut from. What is in the rack is of the job's own glass.
func (m *maker) offCuts(k Span) []int {
	var out []int
	for _, o := range m.OffCuts {
		if cmp.Or(o.Colour, m.Colour) == k.Colour && k.Glass == m.Glass {
			out = append(out, int(math.Floor(10*o.Length+1e-6)))
		}
	}
	return out
}

// cuts lists the sticks of a kind of glass with their pieces, and returns how many
// sticks there are.
func (m *maker) cuts(s *Section, k Span, long q.Quantity) int {
	cuts, packed, err := m.pack(k, long)
	if err != nil {
		panic("shop: " + err.Error()) // parted leaves no piece longer than a stick
	}
	m.changeWelds(s, k)
	for _, u := range m.units {
		if m.isTooLong(u) {
			s.note("piece-long", finding.Warning, fmt.Sprintf("unit %s: a piece is longer than the stick of %s: cut as two, with a weld that the bend plan found no place for", u.ID, long.Format(q.Millimetre, 0)), "take a longer stick, or let the unit be split", "")
		}
	}
	m.cutList = append(m.cutList, cuts...)
	n := len(packed.Sticks)
	how := fmt.Sprintf("packed; at least %d needed", packed.Bound)
	if packed.Exact {
		how = "packed; proved the least"
	}
	s.add(by(fig("sticks", q.Int(n, q.Piece), q.Piece, 0), how, "", "D"))
	g := &Grid{Heads: []string{"Stick", "Cuts, mm", "Off-cut, mm"}, Right: []bool{false, false, true}, Widths: []float64{10, 58, 23}}
	total := q.Int(0, q.Millimetre)
	for i := 0; i < len(cuts); {
		first := cuts[i]
		name := fmt.Sprint(first.Stick)
		if first.Stick == 0 {
			name = "rack " + first.Rack.Number(q.Millimetre, 0)
		}
		var words []string
		for ; i < len(cuts) && cuts[i].from == first.from; i++ {
			words = append(words, cuts[i].Unit+" "+cuts[i].Length.Number(q.Millimetre, 1))
		}
		total = total.Add(first.OffCut)
		g.Rows = append(g.Rows, []q.Figure{word(name), word(strings.Join(words, " + ")), fig("off-cut", first.OffCut, q.Millimetre, 1)})
	}
	g.Total = []q.Figure{word("all"), word(counted(len(cuts), "cut")), fig("off-cut", total, q.Millimetre, 1)}
	s.Grid = g
	return n
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
	s.add(by(fig("rated current of the supply", m.current, q.Milliampere, 0), "setting", "", ""))
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

// changeWelds warns of welds between colours that lie in a bend or near one: the
// bend plan knows nothing of colours.
func (m *maker) changeWelds(s *Section, k Span) {
	near := 2 * m.diameter.Float(q.Millimetre)
	for i, u := range m.units {
		at := 0.0
		for n, p := range u.Spans[:len(u.Spans)-1] {
			at += p.Length.Float(q.Millimetre)
			next := u.Spans[n+1]
			in := func(h bend.Heat) bool { return at > h.Start-near && at < h.End+near }
			if next.Colour == k.Colour && next.Glass == k.Glass && slices.ContainsFunc(m.p.Units[i].Heats, in) {
				s.note("change-in-bend", finding.Warning, fmt.Sprintf("unit %s: the weld where the glass changes, %s mm from electrode A, lies in a bend or within 2 D of one", u.ID, q.FromFloat(at, q.Millimetre, 0).Number(q.Millimetre, 0)), "move the change to a straight", "[C]")
			}
		}
	}
}
