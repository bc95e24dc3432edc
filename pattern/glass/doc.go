// Package glass holds what the glass allows: for one tube diameter D, the least
// and the usual bend radii, the gaps, the depths behind the face, the longest
// unit and the stick it is cut from.
//
// Every default is a multiple of D or a length taken from the trade; the
// comment beside each says where it comes from and how sure we are:
//
//	P  published source, passage read     D  derived from P rows
//	C  common practice, no source         M  from memory
//
// The defaults are settings: a shop that bends otherwise says so in its job.
package glass
