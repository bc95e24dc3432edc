// Package artwork reads the filled outlines of a drawing that someone else
// made: an SVG file with lettering or a picture already turned to paths.
//
//	bytes ─ tree.go ─► elements ─ style.go ─► looks ─ walk.go ─► Drawing
//	         limits      shape.go, pathdata.go, arc.go, transform.go: geometry
//
// Only what is filled is read: paths, rectangles, circles, ellipses, polygons,
// in groups, with transforms, styles and references. What cannot be ink (text,
// pictures, lines that have a stroke but no area) is left out with a Remark
// that names the element, its line and id, and what to do in the drawing
// program. White shapes are paper.
//
// Coordinates are the file's own user units (those of the root's viewBox) with
// y turned up; Drawing.Unit says how long one is, where the file does. The
// grammar and the meaning of every attribute follow the W3C's Scalable Vector
// Graphics (SVG) 1.1, Second Edition.
//
// Files, elements, depth, references and curves are bounded: a hostile file
// gives an error, not a full memory.
package artwork
