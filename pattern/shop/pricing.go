package shop

import (
	"fmt"
	"slices"

	"tubewright/pattern/finding"
	q "tubewright/pattern/shop/quantity"
)

// cost is one line of the price.
type cost struct {
	name   string
	amount q.Quantity
	how    string
	cite   [2]string // source and grade
}

// price is the shop's reckoning and the customer's quote.
func (m *maker) price() []Section {
	inside, price := m.reckon()
	return []Section{inside, m.quote(price)}
}

// rate reads a price row of the table.
func (m *maker) rate(name string, u q.Unit) q.Quantity { return m.tables.Cell("prices", name, u) }

func (m *maker) cite(name string) [2]string {
	r := m.tables.Row("prices", name)
	return [2]string{r.Source(), r.Grade()}
}

// reckon adds up minutes and materials and makes a price of them. Every line is
// rounded to a hundredth, so that the sums are those of what is printed.
func (m *maker) reckon() (Section, q.Quantity) {
	s := Section{ID: "price", Title: "Price, in " + m.Currency, Sheet: "price"}
	g := &Grid{Heads: []string{"Bench time", "Count", "Each", "Time", "Grade"}, Right: []bool{false, true, true, true, true}, Widths: []float64{34, 12, 10, 19, 15},
		By: []Rule{1: measured, 3: {}, 4: {}}}
	minutes := q.Int(0, q.Minute)
	var grades []string
	labour := func(name, rate string, n int) {
		if n == 0 {
			return
		}
		each := m.rate(rate, q.MinutePerPiece)
		t := each.Mul(q.Int(n, q.Piece))
		minutes = minutes.Add(t)
		source, grade := m.cite(rate)[0], m.cite(rate)[1]
		grades = append(grades, grade)
		g.Rows = append(g.Rows, []q.Figure{word(name), fig("count", q.Int(n, q.Piece), q.Piece, 0), by(fig("each", each, q.MinutePerPiece, 1), "table prices", source, grade),
			by(fig("time", t, q.Minute, 1), "count × each", source, grade), word(grade)})
	}
	m.labourLines(labour)
	g.By[3] = Rule{"count × each", "", weakest(grades)}
	hour := m.rate("hour", q.MoneyPerHour)
	work := hour.Mul(minutes).Round(q.Money, 2)
	g.Total = []q.Figure{word("bench time"), word(""), word(""), fig("time", minutes, q.Minute, 1), word("")}
	s.Grid = g
	s.add(by(fig("bench time at "+hour.Number(q.MoneyPerHour, 2)+" an hour", work, q.Money, 2), "time × rate", m.cite("hour")[0], m.cite("hour")[1]))
	sum := work
	for _, c := range m.materialCosts() {
		s.add(by(fig(c.name, c.amount, q.Money, 2), c.how, c.cite[0], c.cite[1]))
		sum = sum.Add(c.amount)
	}
	s.add(by(fig("cost of one set", sum, q.Money, 2), "the lines above", "", m.sumGrade()))
	price := m.markUp(&s, sum)
	m.byLength(&s)
	if m.hasInvented() {
		s.note("invented", finding.Note, "amounts graded invented: put yours in prices.csv", "", "")
	}
	return s, price
}

func (m *maker) labourLines(line func(name, rate string, n int)) {
	kinds, counts := []string{}, map[string]int{}
	for _, u := range m.units {
		for _, b := range u.Bends {
			if counts[b.Kind] == 0 {
				kinds = append(kinds, b.Kind)
			}
			counts[b.Kind] += b.N
		}
	}
	for _, k := range kinds {
		rate := k
		if _, ok := m.tables.Table("prices").Find(k); !ok {
			rate = "curve" // a class the price file does not know costs as a heat of curve
		}
		line("bends, "+k, rate, counts[k])
	}
	painted := m.count(func(u Unit) int { return b2i(u.HiddenRuns > 0) })
	line("welds of two sticks", "weld", m.count(func(u Unit) int { return u.Sticks - 1 }))
	line("electrodes sealed on", "electrode", 2*len(m.units))
	line("pump, fill, age", "process", len(m.units))
	line("block-out, units", "block-out", painted)
}

func (m *maker) materialCosts() []cost {
	var out []cost
	each := func(name, rate string, n int, how string) {
		if n > 0 {
			out = append(out, cost{name, m.rate(rate, q.MoneyPerPiece).Mul(q.Int(n, q.Piece)).Round(q.Money, 2), fmt.Sprintf("%d × %s%s", n, m.rate(rate, q.MoneyPerPiece).Number(q.MoneyPerPiece, 2), how), m.cite(rate)})
		}
	}
	spare := q.Int(m.bought, q.Piece).Mul(m.rate("scrap", q.Percent)).Ceil(q.Piece)
	each("sticks", "stick", m.bought+spare, fmt.Sprintf(", %d of them spare", spare))
	each("electrodes", "electrode-piece", 2*len(m.units), "")
	each("housings", "housing-piece", 2*len(m.units), "")
	each("supports", "support-piece", m.count(func(u Unit) int { return u.Support }), "")
	each("gas", "gas-unit", len(m.units), "")
	wire, kv, rated := q.Int(0, q.Metre), q.Int(0, q.Kilovolt), 0
	for _, c := range m.circuits {
		wire = wire.Add(c.Wire)
		if c.HasRating() {
			kv = kv.Add(c.Answer.Rating)
			rated++
		}
	}
	length := func(name, rate string, l q.Quantity) {
		if !l.IsZero() {
			out = append(out, cost{name, m.rate(rate, q.MoneyPerMetre).Mul(l).Round(q.Money, 2), l.Format(q.Metre, 4) + " × " + m.rate(rate, q.MoneyPerMetre).Number(q.MoneyPerMetre, 2), m.cite(rate)})
		}
	}
	length("cable", "cable-metre", wire)
	length("paint", "paint-metre", m.paintLength().Round(q.Millimetre, 1))
	if rated > 0 {
		base := m.rate("supply-base", q.Money).Times(int64(rated), 1)
		perKV := m.rate("supply-kv", q.Money).Mul(kv.Div(q.Int(1, q.Kilovolt)))
		out = append(out, cost{"supplies", base.Add(perKV).Round(q.Money, 2), fmt.Sprintf("%d, %s in all", rated, kv.Format(q.Kilovolt, 1)), m.cite("supply-kv")})
	}
	return out
}

// markUp turns cost into the price of all sets: fudge, margin, quantity discount.
func (m *maker) markUp(s *Section, sum q.Quantity) q.Quantity {
	part := func(name string, of q.Quantity) q.Quantity { return of.Mul(m.rate(name, q.Percent)).Round(q.Money, 2) }
	line := func(name, rate string, v q.Quantity) {
		s.add(by(fig(name, v, q.Money, 2), m.tables.Row("prices", rate).Text("value")+" %", m.cite(rate)[0], m.cite(rate)[1]))
	}
	fudge := part("fudge", sum)
	line("for intricate or rush work", "fudge", fudge)
	sum = sum.Add(fudge)
	margin := part("margin", sum)
	line("margin", "margin", margin)
	one := sum.Add(margin)
	s.add(by(fig("price of one set", one, q.Money, 2), "cost, fudge and margin", "", m.sumGrade()))
	all := one.Times(int64(m.Sets), 1)
	if !q.Int(m.Sets, q.Piece).Less(m.rate("discount-from", q.Piece)) {
		off := part("discount", all)
		line(fmt.Sprintf("quantity discount on %d sets, taken off", m.Sets), "discount", off)
		all = all.Sub(off)
	}
	if m.Sets > 1 {
		s.add(by(fig(fmt.Sprintf("price of %s", counted(m.Sets, "set")), all, q.Money, 2), "sets × price, less discount", "", m.sumGrade()))
	}
	for _, c := range m.circuits {
		if !c.HasRating() {
			s.note("price-supply", finding.Warning, "a circuit has no rating: its supply is not in the price", "find its rating first, or add the supply by hand", "")
			break
		}
	}
	return all
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// byLength is the second published method, as a check on the first.
func (m *maker) byLength(s *Section) {
	tint := "clear"
	for _, k := range m.glassKinds() {
		c, _ := m.tables.Table("colours").Find(k.Colour)
		if c.Text("tint") != "clear" || c.Text("coating") != "none" {
			tint = "coloured"
		}
	}
	rate := "length-" + m.Class + "-" + tint
	glass := m.sum(func(u Unit) q.Quantity { return u.Glass })
	s.add(by(fig("by length instead", m.rate(rate, q.MoneyPerMetre).Mul(glass), q.Money, 2), fmt.Sprintf("%s, %s", m.Class, tint), m.cite(rate)[0], m.cite(rate)[1]))
}

// weakest returns the least sure of grades: a sum is no surer than its parts.
func weakest(grades []string) string {
	order := []string{"D", "P", "own", "C", "P-weak", "M", "M-low", "invented"}
	least := 0
	for _, g := range grades {
		least = max(least, slices.Index(order, g))
	}
	return order[least]
}

// sumGrade is the grade of what is summed up from prices: the least of the table's.
func (m *maker) sumGrade() string {
	var grades []string
	for _, r := range m.tables.Table("prices").Rows {
		grades = append(grades, r.Grade())
	}
	return weakest(grades)
}

func (m *maker) hasInvented() bool {
	for _, r := range m.tables.Table("prices").Rows {
		if r.Grade() == "invented" {
			return true
		}
	}
	return false
}
