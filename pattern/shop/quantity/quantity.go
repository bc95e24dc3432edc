package quantity

import (
	"fmt"
	"math/big"
	"strings"
)

// Quantity is an exact number with a dimension. The zero value is the plain
// number 0. Quantities are values: no method changes its receiver.
type Quantity struct {
	si  *big.Rat // in SI units; nil is 0
	dim dimension
}

func (q Quantity) rat() *big.Rat {
	if q.si == nil {
		return new(big.Rat)
	}
	return q.si
}

// scale returns the size of a unit in SI units.
func scale(u Unit) *big.Rat {
	i := u.info()
	return big.NewRat(i.num, i.den)
}

// Parse reads a plain decimal such as "12" or "0.305": digits with at most one
// point and one leading minus. Nothing else is a number here: no exponent, no
// fraction, no thousands separator, no infinity.
func Parse(text string, u Unit) (Quantity, error) {
	digits := strings.TrimPrefix(text, "-")
	whole, fraction, point := strings.Cut(digits, ".")
	plain := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	if len(text) > 30 || !plain(whole) || point && !plain(fraction) {
		return Quantity{}, fmt.Errorf("%q is not a plain decimal number; write it as in 12.5", text)
	}
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return Quantity{}, fmt.Errorf("%q is not a plain decimal number", text)
	}
	return FromRat(r, u), nil
}

// Of returns the quantity of a decimal constant; it panics where Parse fails.
func Of(decimal string, u Unit) Quantity {
	q, err := Parse(decimal, u)
	if err != nil {
		panic("quantity: " + err.Error())
	}
	return q
}

// Int returns n units.
func Int(n int, u Unit) Quantity { return FromRat(big.NewRat(int64(n), 1), u) }

// FromRat returns r units.
func FromRat(r *big.Rat, u Unit) Quantity {
	return Quantity{new(big.Rat).Mul(r, scale(u)), u.info().dim}
}

// FromFloat returns v units, rounded to a number of decimals: what is printed
// and added from then on is that decimal. It panics where v is not finite.
func FromFloat(v float64, u Unit, decimals int) Quantity {
	r, ok := new(big.Rat).SetString(fmt.Sprintf("%.*f", decimals, v))
	if !ok {
		panic(fmt.Sprintf("quantity: %v is not a finite number", v))
	}
	return FromRat(r, u)
}

func (q Quantity) same(p Quantity) {
	if q.dim != p.dim {
		panic(fmt.Sprintf("quantity: unlike dimensions %+v and %+v", q.dim, p.dim))
	}
}

// Add returns q + p, of one dimension.
func (q Quantity) Add(p Quantity) Quantity {
	q.same(p)
	return Quantity{new(big.Rat).Add(q.rat(), p.rat()), q.dim}
}

// Sub returns q − p, of one dimension.
func (q Quantity) Sub(p Quantity) Quantity {
	q.same(p)
	return Quantity{new(big.Rat).Sub(q.rat(), p.rat()), q.dim}
}

// Mul returns q·p, of the product of the dimensions.
func (q Quantity) Mul(p Quantity) Quantity {
	return Quantity{new(big.Rat).Mul(q.rat(), p.rat()), q.dim.plus(p.dim, 1)}
}

// Div returns q/p, of the quotient of the dimensions. It panics where p is 0.
func (q Quantity) Div(p Quantity) Quantity {
	return Quantity{new(big.Rat).Quo(q.rat(), p.rat()), q.dim.plus(p.dim, -1)}
}

// Times returns q taken n/d times.
func (q Quantity) Times(n, d int64) Quantity {
	return Quantity{new(big.Rat).Mul(q.rat(), big.NewRat(n, d)), q.dim}
}

// Cmp returns -1, 0 or 1 as q is less than, equal to or more than p, of one dimension.
func (q Quantity) Cmp(p Quantity) int {
	q.same(p)
	return q.rat().Cmp(p.rat())
}

// Less reports q < p, of one dimension.
func (q Quantity) Less(p Quantity) bool { return q.Cmp(p) < 0 }

// Min and Max return the lesser and the greater of two of one dimension.
func (q Quantity) Min(p Quantity) Quantity {
	if p.Less(q) {
		return p
	}
	return q
}

func (q Quantity) Max(p Quantity) Quantity {
	if q.Less(p) {
		return p
	}
	return q
}

// IsZero reports whether the number is 0.
func (q Quantity) IsZero() bool { return q.rat().Sign() == 0 }

// Is reports whether the quantity has the dimension of a unit.
func (q Quantity) Is(u Unit) bool { return q.dim == u.info().dim }

// In returns the number of units. It panics where the unit is of another dimension.
func (q Quantity) In(u Unit) *big.Rat {
	if !q.Is(u) {
		panic(fmt.Sprintf("quantity: dimension %+v read in %s (%+v)", q.dim, u.Symbol(), u.info().dim))
	}
	return new(big.Rat).Quo(q.rat(), scale(u))
}

// Float returns the nearest float64 to the number of units.
func (q Quantity) Float(u Unit) float64 {
	f, _ := q.In(u).Float64()
	return f
}

// Round returns q rounded half away from zero to a number of decimals of a unit.
func (q Quantity) Round(u Unit, decimals int) Quantity {
	r, _ := new(big.Rat).SetString(q.In(u).FloatString(decimals))
	return FromRat(r, u)
}

// Ceil returns the least whole number of units that is not less than q.
func (q Quantity) Ceil(u Unit) int {
	r := q.In(u)
	n := new(big.Int).Neg(r.Num())
	n.Div(n, r.Denom()) // Euclidean: the floor, as the denominator is positive
	return -int(n.Int64())
}

// Number prints the number of units with decimals, without the unit. Never -0.
func (q Quantity) Number(u Unit, decimals int) string {
	s := q.In(u).FloatString(decimals)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// Format prints number and unit.
func (q Quantity) Format(u Unit, decimals int) string {
	s := q.Number(u, decimals)
	if sym := u.Symbol(); sym != "" {
		s += " " + sym
	}
	return s
}

// Sum adds quantities of one dimension; of none it is 0 of the unit.
func Sum(u Unit, qs ...Quantity) Quantity {
	total := Int(0, u)
	for _, q := range qs {
		total = total.Add(q)
	}
	return total
}
