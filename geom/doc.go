// Package geom holds the shapes and units every other package speaks in.
//
//	Length, Angle          units at the edge: "12mm", "1/2in", degrees
//	Point, Vec, Affine     the drawing plane
//	Point3, Vec3           the finished glass
//	Outline                closed contours of lines and Bézier curves, from a font
//	Segment, Path          lines and arcs in the plane: a stroke
//	Segment3, Path3        lines and arcs in space: a tube
//
// Coordinates are plain float64 millimetres on the finished, full-size sign,
// in the front frame: x right, y up, z toward the reader. Angles in the plane
// are counter-clockwise seen from the front. The package imports the standard
// library only, and every value is safe to copy.
package geom
