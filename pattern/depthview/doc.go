// Package depthview draws how the glass runs in depth: for every line of text
// the front view, and under it the view from above, with the face below and
// the wall above.
//
// It reads a finished pattern.Pattern and gives a sheet.Sheet at full size in
// the front frame: in the front view x and y, in the view from above x and how
// far behind the face. Light that is seen is a solid line, hidden glass a
// dashed one, legs a thin one with a dot at the electrode.
package depthview
