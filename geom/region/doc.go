// Package region turns font outlines into clean filled polygons, the form in
// which the medial axis is worked out.
//
//	geom.Outline ── Flatten ──► loops ── FromLoops ──► Region
//
// A Region is a set of simple loops that neither cross nor touch. Every loop
// has the ink on its left: outer loops run counter-clockwise, holes clockwise.
// What is inside follows the OpenType rule: a winding number other than zero.
// Most glyphs are already simple; overlapping ones are settled exactly on an
// integer lattice.
//
// Connected and Union serve joined scripts: glyphs whose ink touches are one
// shape and must be traced as one.
package region
