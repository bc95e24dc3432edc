package shop

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tubewright/pattern"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/stick"
	"tubewright/pattern/tube"
)

// Unit is one unit, measured. Lit, Hidden and Leg are rounded to a tenth of a
// millimetre and make up Glass.
type Unit struct {
	ID, Letters            string
	Lit, Hidden, Leg       q.Quantity
	Glass                  q.Quantity
	Spans                  []Span
	Gas                    string // key of the table gases
	Bends                  []Count
	HiddenRuns             int
	Deepest                q.Quantity // from the face plane to the deepest centre, legs apart (pattern.Depth)
	Sticks, Welds, Support int
}

// Span is a stretch of a unit in one colour and glass.
type Span struct {
	Colour, Glass string
	Length        q.Quantity
}

// Count says how many bends of a kind there are.
type Count struct {
	Kind string
	N    int
}

// measure reads the pattern's units.
func (m *maker) measure() error {
	ids := map[string]bool{}
	for _, u := range m.p.Units {
		ids[u.ID] = true
	}
	for _, c := range m.Changes {
		if !ids[c.Unit] {
			return fmt.Errorf("colour change: there is no unit %q; the pattern has U1 to U%d", c.Unit, len(m.p.Units))
		}
	}
	letters := lettersOf(m.p)
	for i, u := range m.p.Units {
		mm := func(r tube.Role) q.Quantity { return q.FromFloat(u.Tube.LengthOf(r), q.Millimetre, 1) }
		out := Unit{ID: u.ID, Letters: letters[i], Lit: mm(tube.Lit), Hidden: mm(tube.Hidden), Leg: mm(tube.Leg)}
		out.Glass = out.Lit.Add(out.Hidden).Add(out.Leg)
		out.Bends = countBends(u)
		out.HiddenRuns = hiddenRuns(u.Tube)
		out.Deepest = q.FromFloat(pattern.DepthOf(u.Tube).Deepest, q.Millimetre, 1)
		var err error
		if out.Spans, err = m.spans(out); err != nil {
			return err
		}
		c, _ := m.tables.Table("colours").Find(out.Spans[0].Colour)
		out.Gas = c.Text("gas")
		m.sticks(&out)
		m.units = append(m.units, out)
	}
	return nil
}

// lettersOf returns the letters each unit lights, in the order of the text.
func lettersOf(p pattern.Pattern) []string {
	out := make([]string, len(p.Units))
	for i, u := range p.Units {
		lit := map[string]bool{}
		for _, piece := range u.Tube {
			if piece.Stroke != "" {
				lit[piece.Stroke] = true
			}
		}
		seen := map[int]bool{}
		var b strings.Builder
		for _, s := range p.Strokes {
			if lit[s.ID] && !seen[s.Letter] {
				seen[s.Letter] = true
				b.WriteString(s.Text)
			}
		}
		out[i] = b.String()
	}
	return out
}

// countBends counts the heats of each kind, by name.
func countBends(u pattern.Unit) []Count {
	var out []Count
	for _, h := range u.Heats {
		i := slices.IndexFunc(out, func(c Count) bool { return c.Kind == h.Kind })
		if i < 0 {
			i = len(out)
			out = append(out, Count{Kind: h.Kind})
		}
		out[i].N++
	}
	slices.SortFunc(out, func(a, b Count) int { return cmp.Compare(a.Kind, b.Kind) })
	return out
}

func hiddenRuns(t tube.Tube) int {
	n := 0
	for i, p := range t {
		if p.Role == tube.Hidden && (i == 0 || t[i-1].Role != tube.Hidden) {
			n++
		}
	}
	return n
}

// spans applies the colour changes of a unit, and refuses what cannot be one
// tube: two gases, or glasses that do not weld.
func (m *maker) spans(u Unit) ([]Span, error) {
	changes := []Change{{Unit: u.ID, Colour: m.Colour, Glass: m.Glass}}
	for _, c := range m.Changes {
		if c.Unit == u.ID {
			changes = append(changes, c)
		}
	}
	slices.SortStableFunc(changes[1:], func(a, b Change) int { return cmp.Compare(a.At, b.At) })
	var out []Span
	at := q.Int(0, q.Millimetre)
	for i, c := range changes {
		from := q.FromFloat(c.At, q.Millimetre, 1)
		if from.Less(q.Int(0, q.Millimetre)) || u.Glass.Cmp(from) <= 0 {
			return nil, fmt.Errorf("colour change of %s at %s: the unit has %s of glass", c.Unit, from.Format(q.Millimetre, 1), u.Glass.Format(q.Millimetre, 1))
		}
		next := Span{Colour: c.Colour, Glass: c.Glass}
		if i > 0 {
			out[len(out)-1].Length = from.Sub(at)
			next.Colour = cmp.Or(c.Colour, out[len(out)-1].Colour)
			next.Glass = cmp.Or(c.Glass, out[len(out)-1].Glass)
			if from.Cmp(at) == 0 {
				out = out[:len(out)-1] // changed again at the same place: the last word counts
			}
		}
		out, at = append(out, next), from
	}
	out[len(out)-1].Length = u.Glass.Sub(at)
	return out, m.checkSpans(u.ID, out)
}

func (m *maker) checkSpans(unit string, spans []Span) error {
	colours, glasses := m.tables.Table("colours"), m.tables.Table("glasses")
	for i, s := range spans {
		c, ok := colours.Find(s.Colour)
		if !ok {
			return unknown("colour", s.Colour, colours)
		}
		g, ok := glasses.Find(s.Glass)
		if !ok {
			return unknown("glass", s.Glass, glasses)
		}
		if only := c.Text("glass"); only != "" && only != s.Glass {
			return fmt.Errorf("unit %s: colour %s is made in %s only, not in %s; choose that glass or another colour", unit, s.Colour, only, s.Glass)
		}
		if i == 0 {
			continue
		}
		first, _ := colours.Find(spans[0].Colour)
		if first.Text("gas") != c.Text("gas") {
			return fmt.Errorf("unit %s: %s needs %s and %s needs %s, and one tube holds one gas; make two units of it", unit, spans[0].Colour, first.Text("gas"), s.Colour, c.Text("gas"))
		}
		before, _ := glasses.Find(spans[i-1].Glass)
		if err := m.weldable(before, g); err != nil {
			return fmt.Errorf("unit %s: %w; make two units of it, or take one glass", unit, err)
		}
	}
	return nil
}

// weldable reports why two glasses cannot be welded: of different class, of
// expansions further apart than the near-match limit, or of unknown expansion.
func (m *maker) weldable(a, b table.Row) error {
	limit := m.tables.Cell("settings", "weld-expansion", q.PerKelvin)
	names := a.Text("glass") + " and " + b.Text("glass")
	switch {
	case a.Text("glass") == b.Text("glass"):
		return nil
	case a.Text("class") != b.Text("class"):
		return fmt.Errorf("%s do not weld: one is %s glass, the other %s", names, a.Text("class"), b.Text("class"))
	case !a.Has("expansion_e7") || !b.Has("expansion_e7"):
		return fmt.Errorf("%s: the table of glasses does not state both expansions, so the weld cannot be checked", names)
	}
	d := a.Number("expansion_e7", q.PerKelvin).Sub(b.Number("expansion_e7", q.PerKelvin))
	if d = d.Max(d.Times(-1, 1)); limit.Less(d) {
		return fmt.Errorf("%s do not weld: expansions differ by %s, at most %s", names, d.Format(q.PerKelvin, 1), limit.Format(q.PerKelvin, 1))
	}
	return nil
}

// SticksFor returns how many sticks a length of glass takes where waste is lost
// of each, at least 1: a bound that leaves out how cuts share a stick.
func SticksFor(glass, stick, waste q.Quantity) int {
	return max(1, glass.Div(stick.Sub(waste)).Ceil(q.One))
}

// Welds returns the welds of a unit: two electrodes and a weld between sticks
// (S11, P for its at-least-three; the rule D).
func Welds(sticks int) int { return 2 + sticks - 1 }

// sticks counts the sticks, welds and supports of a unit. Supports are those of the
// mounting sheet, by the one rule of package support.
func (m *maker) sticks(u *Unit) {
	for _, p := range m.pieces(*u) {
		u.Sticks += len(p)
	}
	u.Welds = Welds(u.Sticks)
	for _, s := range m.supports {
		u.Support += b2i(s.Unit == u.ID)
	}
}

// pieces returns the lengths a unit is cut in, for each of its spans: those of the
// bend plan, or by the simple rule full sticks and one rest, with glass to hold
// at both ends of the unit. A piece of the plan that is longer than a stick is
// parted by the same rule.
func (m *maker) pieces(u Unit) [][]q.Quantity {
	out := make([][]q.Quantity, len(u.Spans))
	planned := m.planned(u.ID)
	for _, p := range planned {
		for k, long := range shares(p, u.Spans) {
			if !long.IsZero() {
				out[k] = append(out[k], m.parted(long)...)
			}
		}
	}
	if len(planned) > 0 {
		return out
	}
	hold := m.tables.Cell("settings", "hold", q.Millimetre)
	for i, s := range u.Spans {
		long := s.Length
		if i == 0 {
			long = long.Add(hold)
		}
		if i == len(u.Spans)-1 {
			long = long.Add(hold)
		}
		out[i] = m.parted(long)
	}
	return out
}

// shares parts a piece of the bend plan where the colour or glass changes: what of
// its length to cut belongs to each span, glass to hold with the ends.
func shares(p stick.Piece, spans []Span) []q.Quantity {
	out := make([]q.Quantity, len(spans))
	rest := q.FromFloat(p.Length, q.Millimetre, 1)
	scale := (p.Length - p.Head - p.Tail) / (p.To - p.From)
	border, done := 0.0, p.From
	for k, s := range spans {
		out[k] = q.Int(0, q.Millimetre)
		border += s.Length.Float(q.Millimetre)
		switch last := k == len(spans)-1; {
		case last || border >= p.To:
			out[k] = rest
			rest = q.Int(0, q.Millimetre)
		case border > done:
			long := float64((border - done) * scale)
			if done == p.From {
				long += p.Head
			}
			out[k] = q.FromFloat(long, q.Millimetre, 1).Min(rest)
			rest, done = rest.Sub(out[k]), border
		}
	}
	return out
}

// parted returns a length as it can be cut from sticks: whole ones and a rest.
func (m *maker) parted(long q.Quantity) []q.Quantity {
	var out []q.Quantity
	if stick := q.FromFloat(m.p.Spec.Rules.Stick, q.Millimetre, 1); long.Cmp(stick) <= 0 {
		return []q.Quantity{long}
	}
	for full := m.usableStick(); full.Less(long); long = long.Sub(full) {
		out = append(out, full)
	}
	return append(out, long)
}

// isTooLong reports whether the bend plan of a unit has a piece longer than a stick.
func (m *maker) isTooLong(u Unit) bool {
	return slices.ContainsFunc(m.planned(u.ID), func(p stick.Piece) bool { return p.Length > m.p.Spec.Rules.Stick })
}

// planned returns the pieces that the bend plan cuts a unit from; none where the
// pattern has no plan for it.
func (m *maker) planned(unit string) []stick.Piece {
	for _, u := range m.p.Units {
		if u.ID == unit {
			return u.Plan.Pieces
		}
	}
	return nil
}

// usableStick is a stick less the glass lost at one cut.
func (m *maker) usableStick() q.Quantity {
	return q.FromFloat(m.p.Spec.Rules.Stick, q.Millimetre, 1).Sub(m.tables.Cell("settings", "cut-waste", q.Millimetre))
}

// sum adds one length of every unit.
func (m *maker) sum(of func(Unit) q.Quantity) q.Quantity {
	total := q.Int(0, q.Millimetre)
	for _, u := range m.units {
		total = total.Add(of(u))
	}
	return total
}

func (m *maker) count(of func(Unit) int) int {
	n := 0
	for _, u := range m.units {
		n += of(u)
	}
	return n
}

// anyMercury reports whether a unit of the job holds mercury.
func (m *maker) anyMercury() bool {
	return slices.ContainsFunc(m.units, func(u Unit) bool { return m.mercury(u) })
}

func (m *maker) mercury(u Unit) bool {
	g, _ := m.tables.Table("gases").Find(u.Gas)
	return hasMercury(g)
}
