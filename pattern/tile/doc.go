// Package tile cuts a drawing into pages that a home printer can print and a pair of
// scissors can put together again at full size.
//
//	Sheet ─► ink (where something is drawn) ─► Lay: rows and columns of windows,
//	blank ones left out ─► joints with their marks ─► pages with page map
//
// Neighbouring pages both show a strip, the overlap. Along its middle stand the match
// marks of the joint, different at each, and in the margins the crop marks: a page
// is cut at its right and lower crop marks and laid over its neighbours so that the
// marks fall on each other. Rows are lettered from the top, columns
// numbered from the left: B3.
package tile
