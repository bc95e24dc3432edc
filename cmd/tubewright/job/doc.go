// Package job reads what is asked for: a TOML job file, flags, or both, and
// gives a complete, checked Job in which every default is written out.
//
//	file ─ Parse ─► Values ┐
//	                       ├ Over ─► Values ─ Complete ─► Job ─ Write ─► file
//	flags ────────► Values ┘
//
// Values are settings as written, each with the place where it stands, so that
// an error found late still names a line or a flag. Settings lists every
// setting once; the keys of the file, the flags, their help and the file that
// `tubewright new` writes are all made from that list.
package job
