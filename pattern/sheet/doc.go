// Package sheet holds a neutral drawing: what is on a sheet of paper, in
// millimetres, before any file format.
//
//	Sheet ─ Layer ─ Group ─ Shape   lines and arcs, stroked or filled
//	                      └ Text    one line of lettering
//	  │
//	  └── Encode in sheet/svg, sheet/pdf
//
// Coordinates are millimetres on the paper, the origin at the lower left
// corner, x right, y up, as in package geom; only the encoders turn y over for
// formats that count down from the top. A Sheet is in one frame: its Frame says
// whether a reader sees the front of the sign or, mirrored, its back.
//
// Text is measured with the advance widths of the Go fonts, which the PDF
// embeds and the SVG asks its reader to keep to (Width); boxes leave room for a
// reader that does not (Room, Text.Box), so a layout that keeps boxes apart here
// keeps them apart in print.
//
// Placer finds free places for labels: beside what is drawn, never on it.
package sheet
