// Package shop is the shop's side of a job: everything round the bending that
// is arithmetic.
//
//	pattern.Pattern + Spec ─ Make ─► Plan ─┬─ Sections  drawn by pattern/shopsheet
//	                                       ├─ WriteCSV  shop.csv
//	                                       └─ Circuits, Units, Notes
//
// Make measures the units once, in tenths of a millimetre, and reckons from
// those figures alone: so every sum on a sheet is the sum of what is printed
// above it. All numbers are quantity.Figure values: exact, with a unit, and with
// the rule, the source and the grade they came by. The reference tables are
// those of pattern/shop/table, the shop's own laid over.
//
// The plan checks arithmetic, not compliance: Unchecked lists what it does not
// look at, and the local code and licensed people are the authority.
package shop
