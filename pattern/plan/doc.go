// Package plan puts together how one unit is made: what is bent as one piece, in
// which order, and from which sticks.
//
//	tube, heats ─ stick.Sites ─► sections ─ order.Find ─► steps ─► numbers of heats
//	                                 │ none: splice          └──► words a step
//	                                 └─ stick.Pieces ─► marks
//
// A unit is bent as one section where an order for that exists. Where none does,
// it is made in sections, each bent by itself, that are welded in the end: the
// routine way out of boxed-in small copy (trade notes, second part, 8: P, S116).
package plan
