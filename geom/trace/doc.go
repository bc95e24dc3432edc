// Package trace turns a filled outline into the strokes of a pen: the
// centrelines that glass tube follows.
//
//	Region ─ medial ─► branches ─► links + zones ─► joins ─► drafts ─ fit ─► Strokes
//
// The medial axis is exact wherever a stroke has two good walls, and wrong
// wherever strokes meet, turn a corner or end. So the axis is cut into links
// (two walls, nearly parallel, neither touched at a corner that juts into the
// ink) and zones (the rest). In a zone the walls still tell where the pen
// went: a wall that runs on whole shows the pen half a width inside it, long
// after the other wall has ended. Each zone is solved from such one-sided
// centres: arms that go on into each other are paired, the others end on
// those, a round or square end found between two dents becomes a stub, and
// an arm alone is carried to where its stroke ends. The chains of links and
// joins are then fitted with lines and arcs.
//
//	skeleton.go  links and zones           arm.go   arms, walls, one-sided centres
//	zone.go      two arms: bends, corners  many.go  three arms and more; score.go judges them
//	stub.go      short ends in a zone      ends.go  terminals; guard.go tests and reverts
//	assemble.go  strokes and junctions     sweep.go the pen-sweep measure
package trace
