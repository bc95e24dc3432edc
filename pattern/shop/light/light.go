// Package light holds the rules of what luminous lettering shows: the surface
// that emits, with block-out paint deducted, and from how far letters are read.
//
// No published figure of lumens a metre of hand-bent tube was read, so flux is
// reckoned only where a shop's table of colours states one.
package light

import (
	"math/big"

	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/shop/table"
)

// EmittingArea returns the outside surface of lit tube, in full: a tube painted
// out loses its length, half-painted round its length by half (method of S7, P).
func EmittingArea(outside, lit quantity.Quantity) quantity.Quantity {
	pi := quantity.FromRat(big.NewRat(3141592653589793238, 1000000000000000000), quantity.One)
	return pi.Mul(outside).Mul(lit)
}

// DesignDistance returns from how far letters of a height are read with ease:
// 200 heights (S51a, P, a Swedish sign maker's rule).
func DesignDistance(height quantity.Quantity) quantity.Quantity { return height.Times(200, 1) }

// PaintedDistance returns the farthest reading distance of painted black letters
// on white in a US sign-council chart: 29 ft an inch of height (S51b, P). Lit
// letters differ: it is a second opinion only.
func PaintedDistance(height quantity.Quantity) quantity.Quantity { return height.Times(29*12, 1) }

// FarthestRed returns the farthest reading distance of red letters by the table
// (S82, P), on straight lines between its rows, and false outside them.
func FarthestRed(set table.Set, height quantity.Quantity) (distance quantity.Quantity, between, ok bool) {
	rows := set.Table("legibility").Rows
	for i, r := range rows {
		h, d := r.Number("height_in", quantity.Inch), r.Number("farthest_ft", quantity.Foot)
		switch {
		case h.Cmp(height) == 0:
			return d, false, true
		case i > 0 && height.Less(h) && rows[i-1].Number("height_in", quantity.Inch).Less(height):
			h0, d0 := rows[i-1].Number("height_in", quantity.Inch), rows[i-1].Number("farthest_ft", quantity.Foot)
			return d0.Add(d.Sub(d0).Mul(height.Sub(h0).Div(h.Sub(h0)))), true, true
		}
	}
	return quantity.Quantity{}, false, false
}

// OfColour returns what a distance found for red is for another colour: 0.75 of
// it for blue, 0.65 for green, at a width of 3/5 of the height (S22, P).
func OfColour(red quantity.Quantity, colour string) quantity.Quantity {
	switch colour {
	case "blue":
		return red.Times(75, 100)
	case "green":
		return red.Times(65, 100)
	}
	return red
}

// LeastHeight returns the outside height of an S or B whose bends have a radius:
// two half circles stacked, 4 R + D (D).
func LeastHeight(outside, radius quantity.Quantity) quantity.Quantity {
	return radius.Times(4, 1).Add(outside)
}
