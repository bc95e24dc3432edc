// Package pattern makes bending patterns for hand-bent glass tube.
//
//	[]Letter ─ trace ─► strokes ─ condition ─► route ─► tube ─► bend ─► Pattern
//
// trace finds the centreline of each filled letter, condition opens what is
// tighter than the glass allows, route decides the order in which one tube runs
// through the strokes and lays the hidden links behind the face, tube is the
// 3-D centreline of each unit, bend numbers the heats. Draw turns a Pattern
// into a neutral sheet for the encoders.
//
// Coordinates are millimetres, x right, y up, z toward the reader, angles
// counter-clockwise, as seen from the front of the sign; only the sheet for
// the bench is mirrored.
package pattern
