// Package bend turns a tube into what the bender works from: the table of
// feed, rotation and angle (Tabulate), and the heats, one working step each,
// with their place along the straight stick (Heats).
//
// The table alone rebuilds the tube; Walk does so without Tabulate's code.
package bend
