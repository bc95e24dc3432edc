package pattern

import (
	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/plan"
	"tubewright/pattern/route"
	"tubewright/pattern/tube"
)

// Letter is one placed glyph: the characters it shows and either its filled
// outline or, for a single-line face, its strokes. Millimetres, front frame,
// at the size and place where it stands in the sign.
type Letter struct {
	Text    string
	Index   int // of its first character in the text, lines joined, from 0
	Line    int // from 0
	Outline geom.Outline
	Strokes []geom.Path
}

// Spec is one job, complete: Make reads nothing else.
type Spec struct {
	Name   string   // job name, printed on every sheet
	Text   []string // lines of text as typed
	Font   string   // name of the face, printed
	Height float64  // outside height of the finished capital H, mm
	// Tolerance is how far a fitted line or arc may leave the middle of the drawn
	// stroke, mm; 0 stands for a small share of the height.
	Tolerance float64
	Rules     glass.Rules
	Letters   []Letter
	// Routing is what the bender asks of the routing; wishes name letters by
	// their index in Letters.
	Routing route.Options
	// Coarse says that the letters' strokes are polylines whose shallow corners
	// are meant as curves (single-line faces).
	Coarse bool
}

// Stroke is a single-stroke centreline as it is to be seen, at z = 0, corners
// rounded for the tube, whole through its junctions.
type Stroke struct {
	ID     string // "s1"
	Letter int    // index of the letter in Spec.Letters
	Text   string
	Path   geom.Path
}

// Electrode is an end of a unit: where the seal is, and where the tube points there.
type Electrode struct {
	End       string // "A" or "B"
	At        geom.Point3
	Direction geom.Vec3
	// Tubulation is the side to which the pumping tubulation points, as the sign is
	// read: Left, Right, Up or Down; "" at the end that has none.
	Tubulation string
}

// Unit is one continuous piece of glass with an electrode at each end.
type Unit struct {
	ID         string // "U1"
	Tube       tube.Tube
	Table      bend.Table
	Heats      []bend.Heat // in the order of travel, numbered in the order of making
	Plan       plan.Plan
	Electrodes [2]Electrode
	Depth      Depth
	Cost       []route.Term // what the routing of the unit cost, by letter and term
}

// Pattern is the whole result of one job, in the front frame.
type Pattern struct {
	Spec     Spec
	Strokes  []Stroke
	Units    []Unit
	Findings []finding.Finding
	Search   route.Search // how good the orders of strokes are
}
