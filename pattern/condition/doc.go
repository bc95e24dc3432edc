// Package condition makes a drawn stroke fit for a tube.
//
//	stroke as drawn ─ smooth ─► runs and corners ─ carry apexes ─ round ─┐
//	                                                                     ▼
//	        Result ◄─ measure ◄─ tidy ◄─ open what is still too tight ◄─ path
//
// What comes in is a plane path of lines and arcs, in mm, that may have
// corners. What goes out is a path whose directions run on without a corner and
// whose arcs are no tighter than the tube allows, as near to the drawing as
// that permits, and a note of every place where the two differ by more than a
// rounding of corners. Radii are those of the tube's centreline; D is its
// outside diameter.
//
// Corners get the comfortable radius where their legs have room and down to
// the least radius where they have not. A pointed top or bottom, as of A, V, M,
// W and N, is first carried up or down so that its rounded tip reaches the
// height drawn. Curves tighter than the least radius are opened, the rest of
// the stroke staying as it was.
package condition
