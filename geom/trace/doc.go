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
//	skeleton.go  links and zones           penwidth.go  the pen: typical half-width, evenness
//	contour.go   walls, dents              boundary.go  the walls of a zone
//	arm.go       arms, one-sided centres   zone.go, through.go  two arms: bends, corners
//	many.go      three arms and more       plans.go     which go through; score.go judges them
//	stub.go      short ends, cap.go        piece.go     what one wall alone tells; piecelink.go
//	ends.go      terminals                 guard.go     tests and reverts
//	straight.go  ends that come straight   sharpen.go   corners between straights
//	unloop.go    no hooks past corners     glide.go     arms that run in beside a stroke
//	gather.go    short turns, one corner
//	assemble.go  strokes and junctions     fitting.go   lines and arcs; sweep.go the pen-sweep measure
//
// A pen of one width is told from an uneven one (penwidth.go), because with it
// every piece of wall shows the centres half a width inside, whatever is
// hidden behind. A zone whose walls its solution does not follow is then
// solved again from those pieces (piece.go): the sides of a loop whose counter
// has filled up, strokes seen from one side only, the tips of narrow corners.
package trace
