// Package quantity holds numbers that know their unit: exact rationals with a
// dimension.
//
//	glass := quantity.Of("4.8", quantity.Metre)
//	pairs := quantity.Int(4, quantity.Piece)
//	el := glass.Add(quantity.Of("0.5", quantity.MetrePerPiece).Mul(pairs))
//	el.Format(quantity.Metre, 2) // "6.80 m"
//
// Sums of unlike dimensions and readings in a unit of another dimension panic:
// they are mistakes of the program, never of its input. Nothing rounds but
// Round and the printing, so a decimal tie of a loading chart is a tie here too
// (5.40 kV is not 5.3999…).
//
// A Figure is a quantity as a sheet prints it, with the rule it came by and the
// source and grade of that rule. The grades are
//
//	P         published source, passage read
//	P-weak    the same, of a page that carries little weight
//	D         derived by arithmetic from P rows
//	C         common practice, no source
//	M, M-low  from memory of a published work; low: could easily be off
//	invented  demonstration figure, to be replaced by the shop's own
//	own       the shop's own
package quantity
