// Package medial works out the medial axis of a region exactly: the centres
// of all discs that lie in the ink and touch its walls in two places or more,
// each with its clearance radius and the places touched.
//
//	Region ─ walls ─► envelope of each wall ─► pieces ─ twins ─► Axis ─ Branches ─► pruned branches
//
// The method is the wall envelope. Walk along a wall; at each wall point the
// largest disc that touches the wall there is limited by one other wall, found
// in closed form for each candidate (the shrinking-ball idea of Ma, Bae and
// Choi, 2012, with exact sites in place of sample points). Where the limiting
// wall changes is found by root finding. Each piece of axis is so seen twice,
// from the wall on its right and from the wall on its left; matching the two
// views yields a half-edge structure, whose orbits are the nodes. No Voronoi
// diagram is built. That both views agree, and that the Euler number of the
// axis is that of the region, is checked for every result.
package medial
