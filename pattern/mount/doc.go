// Package mount draws what the installer drills and hangs by: the sign as it is read,
// with the holes of the electrodes, the housings in them, where nothing else may
// be, the supports, and one table of all holes from one datum.
//
// The sheet is in the front frame and looks unlike the bench's on purpose: another
// border, another title, light glass under heavy holes. It takes the place of no
// code: what may be drilled and hung is decided on the wall.
package mount
