// Package load sizes the high-voltage supply of a circuit of luminous tube by a
// published loading chart, shares units out to circuits and to the two sides of
// a midpoint, and reckons branch circuits.
//
// A chart is one of two kinds. Kind limit states, for gas, diameter and
// kilovolts, the most length a rating carries; kind factor states kilovolts a
// metre. Each chart has its own allowance for a pair of electrodes, added to
// the load or taken off the limit, and no function here takes an allowance from
// anywhere but the chart it reads: allowances of different charts cannot mix.
// All of it is exact decimal arithmetic.
//
// What a chart does not cover is a *Refusal with a remedy, never a guess.
// Between two diameters of a chart the answer is a refusal too, unless the
// demand asks for straight-line interpolation; then the answer says so.
package load
