// Package bend turns a tube into what the bender works from: the table of feed,
// rotation and angle (Tabulate, WriteTable), and the heats, one working step each,
// with fire, heated zone, wall and strain (Heats, Strains, Findings).
//
//	tube ─ Tabulate ─► Table ─ WriteTable ─► CSV
//	  └─── Heats ────► Heats ─ (package plan: order) ─ Renumber ─► numbers
//
// What turns by too little to be bent is made with the heat beside it (settle.go).
// The table alone rebuilds the tube; Walk does so without Tabulate's code.
// Heats stay in the order of travel from electrode A; their Number is the order in
// which they are made.
package bend
