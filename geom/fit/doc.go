// Package fit turns a polyline into a path of lines and tangent-continuous
// arcs: the form glass tube is bent in.
//
//	points ─ clean ─► samples ─ DP ─► structure ─ solve ─► spline ─► Path
//	                             ▲                   │
//	                             └── add / remove ◄──┘
//
// Structure: dynamic programming over samples finds the fewest lines and arcs
// that each hold the tolerance on their own (after Drysdale, Rote and Sturm,
// "Approximation of an open polygonal curve with a minimum number of circular
// arcs and biarcs", Comput. Geom. 41, 2008; they join by biarcs, here pieces
// are least-squares lines and circles, Pratt 1987).
//
// Solve: the pieces become one spline described by its start point, start
// heading and, for each piece, a length and a curvature. Neighbours then meet
// and share a direction by construction, so no rounding of joints can open a
// gap. A Gauss-Newton iteration moves all of them together, the end point (and
// directions at the ends, if asked for) held exactly, curvatures within
// 1/MinRadius.
//
// Where the spline leaves the band a piece is added at the worst place; where
// there are more pieces than the structure needs, each is tried for removal.
// If that does not settle, the polyline itself with its corners rounded is
// returned, so Curve answers for every input of two distinct finite points.
package fit
