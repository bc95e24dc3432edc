// Package export writes what one job computed for other programs.
//
//	WriteResult  result.json, the whole result: a public interface, described by
//	             the JSON Schema in Schema and never changed in meaning under the
//	             same "format"
//	WriteBends   bends.csv, one line a heat, for a spreadsheet
//
// Both are in the front frame: x right, y up, z toward the reader, millimetres
// and degrees. The same pattern always gives the same bytes.
//
// # bends.csv
//
// One line is one heat, in the order in which they lie along the tube from
// electrode A. Positions along the tube are developed distances from seal A: the
// marks on the straight stick.
//
//	unit, heat            "U1" and the heat's number, in the order of bending
//	kind, direction       as the bender sees it on the bench
//	start_mm, end_mm      tangent points: where its bend starts and ends, from A
//	straight_before_mm    straight glass since the heat before, or since A
//	angle_deg             sum of the turns of its arcs
//	radius_mm             least centreline radius in it
//	x_mm, y_mm, z_mm      its middle, front frame
//
// A heat may hold several arcs (a double-back, a ramp); the arcs one by one, with
// feed, rotation and angle, are the rows of result.json.
package export
