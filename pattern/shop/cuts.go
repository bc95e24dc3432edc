package shop

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tubewright/pattern/bend"
	"tubewright/pattern/finding"
	q "tubewright/pattern/shop/quantity"
	"tubewright/pattern/stick"
)

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
	g := &Grid{Heads: []string{"Stick", "Cuts, mm", "Off-cut, mm"}, Right: []bool{false, false, true}, Widths: []float64{10, 58, 23},
		By: []Rule{2: {"the stick less its cuts", "", "D"}}}
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
