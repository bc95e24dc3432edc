// Package card lays out what a bender pins up beside the fire, as rows for the
// pages of a document, in the bench frame and in the words of any language:
//
//	Facts   how the unit is made, which end is blown, how much glass is held
//	Sticks  each stick with its marks to scale
//	Heats   the heats in the order of making, each with the glass before and after
//	        it and what to hold and watch
//	Table   the bend table, with running totals from both ends
//	Strip   a stick at true size, to lay the glass on
//
// Black on white, no lettering under 2.5 mm: it is read at arm's length.
//
// In the pictures the table is seen from its front edge and from above: x to the
// right, y away from the reader and up the sheet, what stands off the table up the
// sheet as well. What lies still is a black line, what swings a hollow one, the
// heated glass a thick one.
package card
