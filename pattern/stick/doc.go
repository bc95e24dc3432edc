// Package stick is about the glass as it is bought: which stretch of a unit
// comes from which stick, where sticks are welded, what is marked on each before
// the first fire, and how the pieces of a whole job are cut from stock.
//
//	heats ─ Sites ─► Welds ─► Pieces with Marks ─ Pack ─► Cutting
//
// Positions along a unit are developed mm from electrode seal A; positions on a
// stick are mm from its marked end, the end toward A, on the straight, unbent glass.
package stick
