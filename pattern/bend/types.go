package bend

import "tubewright/geom"

// Row is one arc of the bend table, in order of travel from electrode A.
type Row struct {
	StraightBefore float64    // mm of straight glass since the last arc (feed)
	Rotation       geom.Angle // turn of the bend plane about the tube since the last arc, right-handed about the travel; 0 in the first row
	Angle          geom.Angle // degree of bend, > 0
	Radius         float64    // centreline radius, mm
	Bend           int        // number of the heat this arc belongs to
}

// Table rebuilds a tube with nothing else.
type Table struct {
	Rows          []Row
	StraightAfter float64
}

// Heat is one working step: a corner, a double-back, a drop, a raise, or a
// stretch of curve short enough for one fire. Start and End are developed
// distances in mm from electrode seal A.
type Heat struct {
	Number    int
	Kind      string // "corner", "curve", "double-back", "drop", "raise"
	First     int    // index of the first and last tube piece
	Last      int
	Start     float64
	End       float64
	Angle     geom.Angle // sum of the turns of its arcs
	Radius    float64    // least radius in it, mm
	Direction string     // as the bender sees it on the bench: "left", "right", "up", "down"
	At        geom.Point3
}
