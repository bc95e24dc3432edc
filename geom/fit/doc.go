// Package fit turns a polyline into a path of lines and tangent-continuous
// arcs: the form glass tube is bent in.
//
//	points ─ clean ─ soften ─► samples ─ flatten ─► marks ─ DP ─► flat spline ─ search ─► exact spline ─► Path
//	                                                                  ▲            │
//	                                                                  └ add / merge ┘
//
// Flat model (flat.go): with φ(s) the heading along the polyline and y = ∫φ ds,
// an arc is a parabola and a tangent-continuous chain of arcs a quadratic
// spline; how far it is from y is how far the chain is from the polyline, to
// first order. All searching is done there, without a sine.
//
// Structure (flatcut.go): dynamic programming finds the fewest parabolas and
// lines that each hold the tolerance on their own (after Drysdale, Rote and
// Sturm, "Approximation of an open polygonal curve with a minimum number of
// circular arcs and biarcs", Comput. Geom. 41, 2008). A joint can lie only
// between the places where the greediest pieces from either end put it, so a
// few places for each are enough.
//
// Search (flatsearch.go, flatsolve.go): the pieces are joined; where the band
// does not hold one is added, and each two neighbours are tried as one. A
// fit of given structure, joints free, is a Gauss-Newton iteration each step of
// which is solved by the Riccati recursion (riccati.go), in time proportional
// to samples and pieces.
//
// Exact (exact.go): the same iteration with true distances, on a spline given
// by its start pose and, for each piece, a length and a curvature. Neighbours
// then meet and share a direction by construction, so no rounding of joints can
// open a gap. The end point (and directions at the ends, if asked for) are met
// exactly.
//
// What turns back, and what a least radius forbids, goes the older and slower
// way (fitter.cornered): a search with exact distances throughout, least-squares
// circles after Pratt, 1987. If that does not settle either, the polyline itself
// with its corners rounded is returned, so Curve answers for every input of two
// distinct finite points.
package fit
