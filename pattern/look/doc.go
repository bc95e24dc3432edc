// Package look says how a finished sign looks: the colour of lit glass on a
// screen, how dark block-out is and where the wall is.
// The lit proof and the 3-D view both draw by it, so that they agree.
//
//	table colours (gas, powder, glass) ─ Find ─► Light: CIE x, y and screen colour
//	pattern ─ WallZ, Samples ─► what stands behind the glass, and its places
//
// Chromaticities are CIE 1931 2°. They stand in colours.csv, each with its source
// and grade. Those of clear tubes are derived from the lines of the gas; the test
// of this package derives them again. A screen cannot show them: Light.RGB is the
// nearest colour of the same hue that it can.
package look
