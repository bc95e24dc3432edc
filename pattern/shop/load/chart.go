package load

import (
	"fmt"
	"slices"
	"strings"

	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// Chart is one loading chart.
type Chart struct {
	ID, Name, Note string
	Source, Grade  string
	PairAllowance  quantity.Quantity // length a pair
	IsElectronic   bool
	MostKV         quantity.Quantity // rating beyond which the chart says nothing

	factor    bool
	fromLimit bool          // the allowance is taken off the limit
	unit      quantity.Unit // of the cells of a limit chart
	columns   []column
}

// column is one gas and diameter of a chart, its cells by rising kilovolts.
type column struct {
	gas      string
	diameter quantity.Quantity
	perMetre quantity.Quantity // of a factor chart
	cells    []cell
}

type cell struct{ kv, most, least quantity.Quantity }

// Refusal is a question that a chart cannot answer.
type Refusal struct{ Message, Remedy string }

func (r *Refusal) Error() string { return r.Message + "; " + r.Remedy }

func refuse(remedy, format string, args ...any) *Refusal {
	return &Refusal{fmt.Sprintf(format, args...), remedy}
}

// Find returns a chart of the tables by its id.
func Find(set table.Set, id string) (Chart, error) {
	r, ok := set.Table("charts").Find(id)
	if !ok {
		return Chart{}, refuse("write one of "+strings.Join(set.Table("charts").Keys(), ", "), "there is no loading chart %q", id)
	}
	c := Chart{
		ID: id, Name: r.Text("name"), Note: r.Text("note"), Source: r.Source(), Grade: r.Grade(),
		PairAllowance: r.Number("pair_allowance_m", quantity.MetrePerPiece),
		IsElectronic:  r.Text("supply") == "electronic", MostKV: r.Number("most_kv", quantity.Kilovolt),
		factor: r.Text("kind") == "factor", fromLimit: r.Text("applied") == "limit", unit: quantity.Metre,
	}
	if r.Text("unit") == "ft" {
		c.unit = quantity.Foot
	}
	if c.factor {
		c.readFactors(set)
	} else {
		c.readLimits(set)
	}
	slices.SortStableFunc(c.columns, func(a, b column) int { return a.diameter.Cmp(b.diameter) })
	return c, nil
}

func (c *Chart) readFactors(set table.Set) {
	for _, r := range set.Table("chart-factors").Rows {
		if r.Text("chart") == c.ID {
			c.columns = append(c.columns, column{gas: r.Text("gas"), diameter: r.Number("diameter_mm", quantity.Millimetre),
				perMetre: r.Number("kv_per_m", quantity.KilovoltPerMetre)})
		}
	}
}

func (c *Chart) readLimits(set table.Set) {
	for _, r := range set.Table("chart-limits").Rows {
		if r.Text("chart") != c.ID {
			continue
		}
		d := r.Number("diameter_mm", quantity.Millimetre)
		i := slices.IndexFunc(c.columns, func(o column) bool { return o.gas == r.Text("gas") && o.diameter.Cmp(d) == 0 })
		if i < 0 {
			i = len(c.columns)
			c.columns = append(c.columns, column{gas: r.Text("gas"), diameter: d})
		}
		l := cell{kv: r.Number("kv", quantity.Kilovolt), most: r.Number("most", c.unit), least: quantity.Int(0, c.unit)}
		if r.Has("least") {
			l.least = r.Number("least", c.unit)
		}
		c.columns[i].cells = append(c.columns[i].cells, l)
	}
	for i := range c.columns {
		slices.SortFunc(c.columns[i].cells, func(a, b cell) int { return a.kv.Cmp(b.kv) })
	}
}

// HasBody reports whether the chart has figures, not its rule alone.
func (c Chart) HasBody() bool { return len(c.columns) > 0 }

// Demand is what a circuit asks of a supply. Gas is "neon" or "argon", the two
// columns all charts have; Pairs counts pairs of electrodes.
type Demand struct {
	Gas         string
	Diameter    quantity.Quantity
	Glass       quantity.Quantity
	Pairs       int
	Interpolate bool              // between the diameters of the chart
	MostKV      quantity.Quantity // greatest rating in question; 0 V for the chart's own
}

// Answer is a chart's word on a demand.
type Answer struct {
	Chart      string
	Allowance  quantity.Quantity // of the pairs together, by this chart
	Electrical quantity.Quantity // glass plus allowance
	Exact      quantity.Quantity // kV before rounding; of a factor chart only
	Rating     quantity.Quantity // least rating that carries the demand
	Carries    quantity.Quantity // electrical length which that rating carries
	Least      quantity.Quantity // electrical length under which the chart says it is under-loaded; 0 where it says nothing
	Share      quantity.Quantity // of the rating in use
	How        string            // columns the answer stands between, "" for a printed one
}

// IsUnder reports whether the chart itself calls the demand less than the
// rating's least load.
func (a Answer) IsUnder() bool { return a.Electrical.Less(a.Least) }

// Electrical returns the glass and the chart's own allowance for the pairs.
func (c Chart) Electrical(glass quantity.Quantity, pairs int) quantity.Quantity {
	return glass.Add(c.PairAllowance.Mul(quantity.Int(pairs, quantity.Piece)))
}

// UsableGlass returns the glass that a limit of the chart leaves for so many pairs.
func (c Chart) UsableGlass(limit quantity.Quantity, pairs int) quantity.Quantity {
	return limit.Sub(c.PairAllowance.Mul(quantity.Int(pairs, quantity.Piece)))
}

// Answer returns the least rating that carries the demand, or a *Refusal.
func (c Chart) Answer(d Demand) (Answer, error) {
	a := Answer{Chart: c.ID, Electrical: c.Electrical(d.Glass, d.Pairs), Least: quantity.Int(0, quantity.Metre)}
	a.Allowance = a.Electrical.Sub(d.Glass)
	col, how, err := c.column(d)
	if err != nil {
		return a, err
	}
	a.How = how
	most := c.MostKV
	if !d.MostKV.IsZero() {
		most = most.Min(d.MostKV)
	}
	if c.factor {
		return c.answerFactor(a, col, most)
	}
	return c.answerLimit(a, col, d, most)
}

// answerFactor rounds as the sheet's own worked example does: a fraction under
// 0.4 kV goes down, 0.4 and over up; and no supply is under 1 kV.
func (c Chart) answerFactor(a Answer, col column, most quantity.Quantity) (Answer, error) {
	a.Exact = a.Electrical.Mul(col.perMetre)
	a.Rating = RoundKV(a.Exact)
	if most.Less(a.Rating) {
		return a, c.tooLong(a, most)
	}
	a.Carries = a.Rating.Div(col.perMetre)
	a.Share = a.Exact.Div(a.Rating)
	return a, nil
}

// RoundKV rounds to whole kilovolts as chart B does: 4.3 to 4, 4.4 to 5, and to
// 1 at least.
func RoundKV(exact quantity.Quantity) quantity.Quantity {
	up := exact.Sub(quantity.Of("0.4", quantity.Kilovolt))
	n := up.Ceil(quantity.Kilovolt)
	if quantity.Int(n, quantity.Kilovolt).Cmp(up) == 0 { // the fraction is 0.4 itself
		n++
	}
	return quantity.Int(max(1, n), quantity.Kilovolt)
}

// answerLimit reads the least row that covers the demand. For a chart whose
// allowance comes off the limit, glass ≤ limit − allowance is the same test,
// but the share is of what is left for glass.
func (c Chart) answerLimit(a Answer, col column, d Demand, most quantity.Quantity) (Answer, error) {
	for _, l := range col.cells {
		if l.most.Less(a.Electrical) || most.Less(l.kv) {
			continue
		}
		a.Rating, a.Carries, a.Least = l.kv, l.most, l.least
		a.Share = a.Electrical.Div(l.most)
		if c.fromLimit {
			a.Share = d.Glass.Div(c.UsableGlass(l.most, d.Pairs))
		}
		return a, nil
	}
	return a, c.tooLong(a, most)
}

func (c Chart) tooLong(a Answer, most quantity.Quantity) *Refusal {
	return refuse("share the units out to more circuits, or split the unit",
		"chart %s: no rating up to %s carries %s of electrical length", c.ID, most.Format(quantity.Kilovolt, 1), a.Electrical.Format(quantity.Metre, 2))
}

// column returns the chart's column for a demand: the printed one, or one
// between two printed ones where the demand asks for it.
func (c Chart) column(d Demand) (column, string, error) {
	if !c.HasBody() {
		return column{}, "", refuse("enter the chart of the supply in hand in chart-limits.csv", "chart %s has a rule but no figures", c.ID)
	}
	var below, above *column
	var known []string
	for i := range c.columns {
		k := &c.columns[i]
		if k.gas != d.Gas {
			continue
		}
		known = append(known, k.diameter.Number(quantity.Millimetre, 0))
		switch cmp := k.diameter.Cmp(d.Diameter); {
		case cmp == 0:
			return *k, "", nil
		case cmp < 0:
			below = k
		case above == nil:
			above = k
		}
	}
	mm := d.Diameter.Format(quantity.Millimetre, 1)
	if len(known) == 0 {
		return column{}, "", refuse("take a chart that has it, or the maker's own in chart-limits.csv", "chart %s has no column for %s", c.ID, d.Gas)
	}
	if below == nil || above == nil {
		return column{}, "", refuse("take another chart, or another tube", "chart %s has %s for %s mm only, not for a tube of %s", c.ID, d.Gas, strings.Join(known, ", "), mm)
	}
	if !d.Interpolate {
		return column{}, "", refuse("ask for interpolation, or take another chart or tube",
			"chart %s has no column for a tube of %s: it lies between %s and %s", c.ID, mm, below.diameter.Format(quantity.Millimetre, 0), above.diameter.Format(quantity.Millimetre, 0))
	}
	how := fmt.Sprintf("straight line between the columns of %s and %s mm", below.diameter.Number(quantity.Millimetre, 0), above.diameter.Number(quantity.Millimetre, 0))
	return between(*below, *above, d.Diameter, c.factor), how, nil
}

// between returns the column that lies on the straight line between two; of a
// limit chart, with the ratings that both have.
func between(lo, hi column, diameter quantity.Quantity, factor bool) column {
	share := diameter.Sub(lo.diameter).Div(hi.diameter.Sub(lo.diameter))
	mix := func(a, b quantity.Quantity) quantity.Quantity { return a.Add(b.Sub(a).Mul(share)) }
	out := column{gas: lo.gas, diameter: diameter}
	if factor {
		out.perMetre = mix(lo.perMetre, hi.perMetre)
		return out
	}
	for _, a := range lo.cells {
		for _, b := range hi.cells {
			if a.kv.Cmp(b.kv) == 0 {
				out.cells = append(out.cells, cell{a.kv, mix(a.most, b.most), mix(a.least, b.least)})
			}
		}
	}
	return out
}

// Line is kV = A + B·length, the least-squares line of a column of a limit
// chart over 3 to 10 kV.
type Line struct {
	A, B quantity.Quantity // volts, volts a metre
	Miss quantity.Quantity // greatest distance of a cell from the line, in volts
	At   quantity.Quantity // rating of that cell
}

// FitLine returns the line of a column, and false where fewer than three cells
// lie in its range. A cell more than 0.5 kV off its line is suspect.
func (c Chart) FitLine(gas string, diameter quantity.Quantity) (Line, bool) {
	var cells []cell
	for _, k := range c.columns {
		for _, l := range k.cells {
			v := l.kv.Float(quantity.Kilovolt)
			if k.gas == gas && k.diameter.Cmp(diameter) == 0 && v >= 3 && v <= 10 {
				cells = append(cells, l)
			}
		}
	}
	if len(cells) < 3 {
		return Line{}, false
	}
	n := quantity.Int(len(cells), quantity.One)
	zero := quantity.Int(0, quantity.Metre)
	sx, sy := zero, quantity.Int(0, quantity.Kilovolt)
	for _, l := range cells {
		sx, sy = sx.Add(l.most), sy.Add(l.kv)
	}
	mx, my := sx.Div(n), sy.Div(n)
	sxx, sxy := zero.Mul(zero), zero.Mul(my)
	for _, l := range cells {
		dx := l.most.Sub(mx)
		sxx, sxy = sxx.Add(dx.Mul(dx)), sxy.Add(dx.Mul(l.kv.Sub(my)))
	}
	f := Line{B: sxy.Div(sxx), Miss: quantity.Int(0, quantity.Volt)}
	f.A = my.Sub(f.B.Mul(mx))
	for _, l := range cells {
		off := l.kv.Sub(f.A.Add(f.B.Mul(l.most)))
		if off = off.Max(off.Times(-1, 1)); f.Miss.Less(off) {
			f.Miss, f.At = off, l.kv
		}
	}
	return f, true
}
