// Package process reckons what one unit needs on the pumping manifold: bore,
// volume, surface, mass, fill pressure, mercury ceiling.
//
// Nothing here is compliance. The mercury ceiling is the formula of a European
// exemption that ended in 2018, kept as good practice: what the law of a place
// says stands in the table of places.
package process

import (
	"math"
	"math/big"

	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// pi is π to 18 figures: exact to far more than any length is known to.
func pi() quantity.Quantity {
	return quantity.FromRat(big.NewRat(3141592653589793238, 1000000000000000000), quantity.One)
}

// Bore returns the inside diameter of a tube.
func Bore(outside, wall quantity.Quantity) quantity.Quantity { return outside.Sub(wall.Times(2, 1)) }

// Volume returns the volume of the bore over a length: π/4·bore²·length.
func Volume(bore, length quantity.Quantity) quantity.Quantity {
	return pi().Mul(bore).Mul(bore).Mul(length).Times(1, 4)
}

// Surface returns the area of a tube's wall of the given diameter over a length.
func Surface(diameter, length quantity.Quantity) quantity.Quantity {
	return pi().Mul(diameter).Mul(length)
}

// MassPerMetre returns the mass of glass a length: density times the area of the
// ring, π/4·(outside² − bore²).
func MassPerMetre(outside, wall, density quantity.Quantity) quantity.Quantity {
	bore := Bore(outside, wall)
	return pi().Times(1, 4).Mul(outside.Mul(outside).Sub(bore.Mul(bore))).Mul(density)
}

// Pressure is a fill pressure, by a printed row of the table or by the law
// p·D = constant.
type Pressure struct {
	Value         quantity.Quantity
	Printed       bool // a row of the table; else by the law
	Source, Grade string
}

// FillPressure returns the pressure for an outside diameter: the row of the
// table that has it, else the law that the printed rows follow.
func FillPressure(set table.Set, outside quantity.Quantity) Pressure {
	for _, r := range set.Table("pressures").Rows {
		if r.Number("diameter_mm", quantity.Millimetre).Cmp(outside) == 0 {
			return Pressure{r.Number("torr", quantity.Torr), true, r.Source(), r.Grade()}
		}
	}
	law := set.Row("settings", "pressure-law")
	return Pressure{law.Number("value", quantity.TorrMillimetre).Div(outside), false, law.Source(), law.Grade()}
}

// Mercury is the dose ceiling of one unit.
type Mercury struct {
	Ceiling quantity.Quantity // mg
	Capped  bool
}

// MercuryCeiling returns the good-practice ceiling of a dose: so much a pair and
// so much a length, up to a cap; more outdoors or below 20 °C than indoors.
func MercuryCeiling(set table.Set, length quantity.Quantity, pairs int, outdoors bool) Mercury {
	place := "mercury-indoor"
	if outdoors {
		place = "mercury-outdoor"
	}
	dose := set.Cell("settings", place+"-pair", quantity.MilligramPerPiece).Mul(quantity.Int(pairs, quantity.Piece)).
		Add(set.Cell("settings", place+"-length", quantity.MilligramPerCentimetre).Mul(length))
	most := set.Cell("settings", "mercury-cap", quantity.Milligram)
	if most.Less(dose) {
		return Mercury{most, true}
	}
	return Mercury{dose, false}
}

// Bead returns the diameter of a ball of a mass: (6V/π)^(1/3).
func Bead(mass, density quantity.Quantity) quantity.Quantity {
	volume := mass.Div(density).Float(quantity.Microlitre) // mm³
	return quantity.FromFloat(math.Cbrt(6*volume/math.Pi), quantity.Millimetre, 3)
}
