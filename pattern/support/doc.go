// Package support says where a unit is held.
//
//	pattern, Rule ─ Places ─► places along the glass, from electrode A on
//
// The mounting sheet drills by it, and the lit proof and the 3-D view show it: one
// rule for all. Places are in the front frame, mm.
package support
