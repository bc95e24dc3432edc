// Package export writes what one job computed for other programs.
//
//	WriteResult  result.json, the whole result: a public interface, described by
//	             the JSON Schema in Schema and never changed in meaning under the
//	             same "format"
//	WriteBends   bends.csv, the bend table: one line an arc, enough to rebuild the glass
//	WriteHeats   heats.csv, one line a heat in the order of making
//
// All are in the front frame: x right, y up, z toward the reader, millimetres
// and degrees; sides are as the bender sees them on the bench. The same pattern
// always gives the same bytes. Positions along the tube are developed distances
// from the seal of electrode A.
//
// # bends.csv
//
// The columns are those of bend.WriteTable: one line an arc, in the order of travel
// from electrode A, with feed, rotation, angle and radius, the heat it belongs
// to, the side that the heat turns to on the bench (that of the first line is the
// side that the first bend takes) and running totals from both ends; one line
// with the row "end" for the straight glass after the last arc. Feed is the straight
// since the arc before; the rotation of the first line is 0, for how the whole
// unit lies is free.
//
// # heats.csv
//
// One line is one heat, in the order of making.
//
//	unit, heat, part            "U1", the heat's number, the part that is bent as one
//	kind, side, fire            as the bender sees it on the bench
//	angle_deg, radius_mm        sum of the turns of its arcs; least centreline radius
//	wall_left, tight            of the outer wall where nothing is gathered; yes or no
//	start_mm, end_mm            tangent points: where its bend starts and ends
//	heated_from_mm, heated_to_mm  the heated zone
//	stick, stick_from_mm, stick_to_mm  the zone on the straight stick, from its marked end
//	stays, swings               the side that lies in its place and the one that swings,
//	                            empty in a part for which no order was found
//	travel_mm, lift_deg         of the end that swings
//	before                      heats that this one must come before, "3 5"
//	strain_with                 heats whose zones come near this one's
//	x_mm, y_mm, z_mm            its middle, front frame
package export
