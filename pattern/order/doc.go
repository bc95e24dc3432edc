// Package order finds out in which order the heats of a unit can be bent at all,
// by bending it in a simulation, and which of the possible orders swings the
// least glass about.
//
//	tube, heats ─ model ─► check one heat ─ search ─► Plan, or what blocks what
//	              frames    swing, table,   from an end, from a heat
//	                        fire, hands     outwards, then mixed
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
// The feasibility of a heat depends only on which heats are bent, never on their
// order, so orders are searched over sets. NP-complete in general (Arkin,
// Fekete, Mitchell, "An algorithmic study of manufacturing paperclips",
// Computational Geometry 25, 2003); orders that grow one formed piece are few,
// and come first: they are also what a bender can lay on the pattern.
package order
