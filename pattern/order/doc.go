// Package order finds out in which order the heats of a unit can be bent at all,
// by bending it in a simulation, and which of the possible orders swings the
// least glass about.
//
//	tube, heats ─ model ─► check one heat ─ search ──► Plan, or what blocks what
//	              frames    swing, table,   any (peel), then the least swing
//	              body      fire, hands     (least), of those one that grows (grow)
//
// # The model
//
// The state of a half-made unit is the set of heats already bent: glass between
// them is straight. A heat keeps its length while it bends (its arcs close from
// straight, all at once), and carries one side of the tube, rigid, round the
// other. The glass at the heat lies where it will lie in the finished unit, in
// the bench frame: face down, the table under all that is lit.
//
// A heat is possible in a state when
//
//   - the swinging side never comes nearer than one diameter to the other side or
//     to the heated glass (conservative advancement over capsules: each pair is
//     moved on by no more than its distance allows, so nothing is stepped over),
//     swung flat or lifted over what lies on the table;
//   - one of the two sides can stay in its place while the other swings, with no
//     glass under the table;
//   - no other glass is in the fire;
//   - both sides hold enough cold glass, and there is room for a hand on each.
//
// Glass that hangs over the table's edge, and a grip with the fingertips only, make
// a heat awkward: orders without such heats come first.
//
// # The search
//
// The feasibility of a heat depends only on which heats are bent, never on their
// order, so orders are searched over sets. NP-complete in general (Arkin,
// Fekete, Mitchell, "An algorithmic study of manufacturing paperclips",
// Computational Geometry 25, 2003). Whether there is an order at all is asked from
// the end: the finished unit is taken apart, heat by heat that could have been the
// last (peel.go), as products are planned for assembly. What boxes itself in shows
// at once, and the heats of which none can come last are what the finding names.
// Then comes the search of the best order: fewest awkward heats, of those the smallest
// largest swing (least.go). It goes over sets, cheapest first, from straight glass and
// from the finished unit; where it ends, the order is proved the best, and where it is
// cut short, the cost at which it stands is a bound. No bound is below the floor: each
// heat swings something, however the others lie (floor.go). Up to about 12 heats it
// ends; beyond, Plan.Bound tells what is proved. Of the orders with that largest swing,
// those that grow one formed piece come first, for they are what a bender can lay on
// the pattern (search.go).
//
// A refusal is remembered with the heats it rests on (refusal.go): the two pieces of
// glass that touch and what is bent between them, however the rest lies. Work is
// counted in places and pairs of chords looked at, and bounded for the unit
// (Budget), so that the same unit stops at the same place on every machine.
package order
