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
	Number    int    // the order in which the bender makes it, from 1
	Kind      string // "corner", "curve", "double-back", "drop-back", "drop", "raise"
	First     int    // index of the first and last tube piece, slight bends made with it among them
	Last      int
	Start     float64    // of the first bend: its tangent point
	End       float64    // of the last bend
	Angle     geom.Angle // sum of the turns of its arcs
	Radius    float64    // least radius in it, slight bends left out, mm
	Direction string     // as the bender sees it on the bench: "left", "right", "up", "down"
	At        geom.Point3
	Fire      string  // "crossfire" or "ribbon"
	From, To  float64 // the heated zone, developed mm from seal A: at least Start to End
	Wall      float64 // outer wall left of 1 where nothing is gathered: R/(R + D/2)
	Tight     bool    // a radius under the tight radius: gather glass
}

// Strain is the glass between two heated zones that come nearer than the strain
// distance, where breaks start. Before is the index of the heat before it.
type Strain struct {
	Before   int
	From, To float64 // developed mm from seal A; To < From where the zones overlap
}

// Gap returns the glass between the two zones, negative where they overlap.
func (s Strain) Gap() float64 { return s.To - s.From }
