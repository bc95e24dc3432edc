// Package route decides how one tube runs through the strokes, and lays it.
//
//	[]Stroke ─ lanes ─► crossings ─► trims ─► runs ─ chain ─► links ─► units
//
// A lane is a stroke in work. Where two lanes cross, one dips behind the other
// (crossing.go). Where a lane ends near other glass it is trimmed until its
// end, turned straight back behind the face, keeps its clearance (trim.go).
// What is left of the lanes are runs: lit glass with a turn behind the face at
// each end. The runs of a letter are ordered so that the hidden links are
// short, letters are chained in reading order, and the chain is cut into units
// no longer than allowed (chain.go). Links run in planes behind the face, clear
// of everything that is there already (link.go). Whatever cannot be done as
// the rules ask is a finding, found by looking at the finished tubes and not at
// what was meant (audit.go).
//
// The order of up to 12 runs of a letter, the sides where letters are entered
// and left and the cuts are the cheapest there are, for the fewest units and
// those as even as can be (exact.go). Above that, orders are searched
// (search.go) and Search tells a proved bound (bound.go). What is asked for a
// letter is kept to, or denied in a finding (wish.go, doubling.go); electrodes
// stand clear of keep-outs and on the hole grid (seat.go).
//
// All positions on a lane are distances along its plane path in mm.
package route
