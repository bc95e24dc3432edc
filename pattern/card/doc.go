// Package card draws what a bender pins up beside the fire, as neutral sheets in
// the bench frame:
//
//	Pages   the bend card of each unit on A4: its sticks with their marks, the
//	        heats in the order of making, each with the glass before and after it
//	        and what to hold and watch, and the bend table
//	Strips  each stick at true size with its marks, to lay the stick on
//
// Black on white, no lettering under 2.5 mm: it is read at arm's length.
//
// In the pictures the table is seen from its front edge and from above: x to the
// right, y away from the reader and up the sheet, what stands off the table up the
// sheet as well. What lies still is a black line, what swings a hollow one, the
// heated glass a thick one.
package card
