// Package bender assembles the documents that go to whoever bends the glass, near by
// or abroad:
//
//	Book    bender.pdf: cover with the job's facts and what is missing of them,
//	        overview, legend, and for each unit its facts, bend card, stick marks,
//	        electrodes, block-out, findings and full-size drawing
//	Tiles   tiles.pdf: the whole drawing on pages of a home printer
//
// All words come from package words, so that a bender reads them in his own
// language. The fields are those that a remote bender needs (trade notes 2, section
// 11): computed where the pattern knows them, taken from the job where it says
// them, else a line to write on; needed fields that are blank make one note.
package bender
