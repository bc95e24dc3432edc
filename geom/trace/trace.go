package trace

import (
	"fmt"
	"sort"

	"tubewright/geom"
	"tubewright/geom/medial"
	"tubewright/geom/region"
)

// Options sets the scale of the lettering. CapHeight must be given.
type Options struct {
	CapHeight float64 // height of the capital H, mm; tolerances are set from it
	Tol       float64 // largest distance of the fitted strokes from the centres found, mm; 0 means 0.05 % of CapHeight
}

// flattenShare is the flattening tolerance as a share of the cap height:
// 0.01 % keeps the axis of a curved stroke within half of that.
const flattenShare = 1e-4

// tolShare is the default fitting tolerance as a share of the cap height:
// 0.15 mm on a 300 mm capital, less than a pencil line.
const tolShare = 5e-4

// EndKind says how a stroke ends.
type EndKind int

const (
	EndNone     EndKind = iota // a closed stroke
	EndRound                   // at the middle of the round
	EndFlat                    // on the outline, square across the stroke
	EndSlanted                 // on the outline, cut at an angle or pointed
	EndBall                    // at the middle of a ball wider than the stroke
	EndJunction                // on another stroke
)

func (k EndKind) String() string {
	return [...]string{"none", "round", "flat", "slanted", "ball", "junction"}[k]
}

// End is one end of a stroke.
type End struct {
	Kind   EndKind
	Radius float64 // half-width of the stroke there, mm
}

// Width is the half-width of a stroke at a distance along its path.
type Width struct {
	At     float64 // mm along the path
	Radius float64 // mm
}

// Stroke is the path of one movement of the pen. Segments may meet in a
// corner; a stroke goes on through its corners.
type Stroke struct {
	Path   geom.Path
	Ends   [2]End
	Widths []Width // in rising order of At, at least one
	Dot    bool    // a dot: the path is a very short straight through its middle
}

// HalfWidth returns the half-width at distance s along the path, in mm.
func (s Stroke) HalfWidth(at float64) float64 {
	w := s.Widths
	i := sort.Search(len(w), func(i int) bool { return w[i].At >= at })
	switch {
	case i == 0:
		return w[0].Radius
	case i == len(w):
		return w[i-1].Radius
	}
	d := w[i].At - w[i-1].At
	return w[i-1].Radius + (w[i].Radius-w[i-1].Radius)*(at-w[i-1].At)/d
}

// Junction is a place where strokes meet or cross. The strokes that end there
// end exactly at At.
type Junction struct {
	At     geom.Point
	Degree int    // arms that meet
	Kind   string // "t", "x", "y"
}

// Result is what Outline finds in one shape.
type Result struct {
	Strokes   []Stroke
	Junctions []Junction
	Coverage  float64 // share of the ink that the pen, swept along the strokes, covers
	Spill     float64 // area the sweep puts outside the ink, as a share of the ink
	Deviation float64 // largest distance of a stroke from the exact axis where both walls are there, mm
	Reverted  int     // junctions left as the raw axis because no repair passed its tests
	Notes     []Note
}

// NoteKind names what makes a shape hard to render as one line of tube.
type NoteKind string

const (
	TooHeavy NoteKind = "too-heavy" // strokes so wide that they hide their own path
	Uneven   NoteKind = "uneven"    // thick and thin strokes
	Raw      NoteKind = "raw"       // a junction left unrepaired
	// Imprecise: swept with the pen, the strokes do not give the ink back.
	Imprecise NoteKind = "imprecise"
)

// Note is a remark about a shape, with its place and figures.
type Note struct {
	Kind        NoteKind
	At          geom.Point
	Value       float64 // half the spread of the half-width (15th to 85th percentile) over its median; half-width over cap height
	Limit       float64
	Explanation string
}

// Outline traces one filled outline, connected or not.
func Outline(o geom.Outline, opt Options) (Result, error) {
	if !(opt.CapHeight > 0) {
		return Result{}, fmt.Errorf("trace: cap height of %g mm: it must be more than 0", opt.CapHeight)
	}
	r, err := region.FromOutline(o, flattenShare*opt.CapHeight)
	if err != nil {
		return Result{}, fmt.Errorf("trace: %w", err)
	}
	return Region(r, opt)
}

// Region traces a region, as Outline does an outline.
func Region(r region.Region, opt Options) (Result, error) {
	if !(opt.CapHeight > 0) {
		return Result{}, fmt.Errorf("trace: cap height of %g mm: it must be more than 0", opt.CapHeight)
	}
	if opt.Tol <= 0 {
		opt.Tol = tolShare * opt.CapHeight
	}
	axis, err := medial.New(r)
	if err != nil {
		return Result{}, fmt.Errorf("trace: %w", err)
	}
	res, err := traceAxis(r, axis, opt, false)
	if err != nil {
		return Result{}, err
	}
	if at, out := leavesInk(r, res, opt); out {
		// No test of a single junction saw it: the raw axis cannot leave the ink.
		if res, err = traceAxis(r, axis, opt, true); err != nil {
			return Result{}, err
		}
		res.Notes = append(res.Notes, Note{Kind: Raw, At: at, Explanation: "the repaired strokes left the ink here; the letter is drawn along its raw axis"})
	}
	return res, nil
}

// traceAxis traces a region whose axis is known; raw leaves every junction as
// the axis has it.
func traceAxis(r region.Region, axis *medial.Axis, opt Options, raw bool) (Result, error) {
	t := newTracer(r, axis, opt)
	t.raw = raw
	t.findZones()
	t.solveZones()
	t.assemble()
	return t.result()
}

// leavesInk returns where a stroke is furthest outside the region, if it is
// further than fitting explains: twice the tolerance.
func leavesInk(r region.Region, res Result, opt Options) (geom.Point, bool) {
	var at geom.Point
	out := false
	for i := range res.Strokes {
		s := &res.Strokes[i]
		w := s.Widths[len(s.Widths)/2].Radius
		worst := -2 * opt.Tol
		for _, p := range s.Path.Samples(max(w/2, opt.CapHeight/200)) {
			if r.Contains(p) {
				continue
			}
			if d := r.Distance(p); d < worst {
				at, worst, out = p, d, true
			}
		}
	}
	return at, out
}
