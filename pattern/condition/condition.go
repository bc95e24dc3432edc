package condition

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/fit"
)

// Limits are what the tube allows, in mm.
type Limits struct {
	Diameter     float64 // outside diameter D of the tube, over 0
	MinRadius    float64 // no bend is tighter; 0 means 0.75 D
	CornerRadius float64 // wanted at corners; 0 means 1.27 D, and never under MinRadius
	// Smooth says the stroke comes from a face of coarse polylines, where
	// corners under 46 degrees stand for a curve.
	Smooth bool
}

// Radii and tolerances in tube diameters. The first two are derived in the
// trade notes from published heated lengths (2 D for a right angle gives
// 1.27 D; under 0.75 D the outer wall thins to 0.6 of itself).
const (
	leastRadius  = 0.75
	cornerRadius = 1.27
	// A curve may leave the one through the vertices of a coarse polyline by at
	// least smoothTol and at most smoothMost; between, by smoothShare of the
	// usual chord, as coarse coordinates are no surer than that. Benders work
	// to 2 or 3 mm (trade notes, checking).
	smoothTol   = 0.08
	smoothMost  = 0.25
	smoothShare = 0.1 // of a chord, not of D
	// openTol is where the search for a curve wide enough starts.
	openTol = 0.03
	// gentle is how far the rounding of a shallow kink may leave it.
	gentle = 0.02
	// A sharp corner is bent tighter than is comfortable where more than
	// cutWanted of it would be cut off, and drawn as a bulb where the least
	// radius cuts off more than cutMost.
	cutWanted = 1
	cutMost   = 1e9
	// shortStroke is the length under which a stroke that cannot be bent is
	// given as a straight piece.
	shortStroke = 3
	// measureStep is how many times in a diameter the deviation is looked at.
	measureStep = 48
	// strays is how many times longer than the drawing a stroke may become
	// before it is taken for one that runs in circles.
	strays = 1.5
)

// Kind says what could not be done as drawn.
type Kind int

// The kinds, and what Want and Got of a Problem mean for each (mm).
const (
	CornerTight  Kind = iota // radius wanted, radius given (at least MinRadius)
	CornerNoRoom             // length a bend of MinRadius needs of its shorter leg, length there is
	CornerBulb               // 0, how far the bend swells beyond the drawn legs
	CurveTight               // MinRadius, radius drawn
	ApexShort                // height of the drawn tip above the bend wanted: 0; how much it falls short
	StrokeShort              // length of a stroke that can be bent, length of this one
)

var kindWords = [...]struct{ code, words string }{
	CornerTight:  {"corner-tight", "the corner has no room for a comfortable bend and is bent tighter"},
	CornerNoRoom: {"corner-no-room", "the corner has no room for a bend of the least radius and is drawn rounder"},
	CornerBulb:   {"corner-bulb", "the corner is too sharp for a bend and is drawn as a small loop round its tip"},
	CurveTight:   {"curve-tight", "the curve is tighter than the glass allows and is drawn wider"},
	ApexShort:    {"apex-short", "the pointed end cannot be carried out to its height and ends short"},
	StrokeShort:  {"stroke-short", "the stroke is too short to be bent and is drawn straight"},
}

// String returns the kind's code, as in "corner-no-room".
func (k Kind) String() string { return kindWords[k].code }

// Words says what is wrong in a few words for a report.
func (k Kind) Words() string { return kindWords[k].words }

// IsNote reports that the result keeps every rule and the drawing's shape, and
// the bender should only know.
func (k Kind) IsNote() bool { return k == CornerTight }

// KeepsShape reports that the glass only rounds what is drawn, so that how far
// the result lies off the drawing says all of the harm.
func (k Kind) KeepsShape() bool { return k == CornerNoRoom || k == CurveTight || k == ApexShort }

// Problem is a place where the glass cannot follow the drawing.
type Problem struct {
	At        geom.Point // on the stroke as drawn
	Kind      Kind
	Want, Got float64 // mm, see Kind
}

// Result is a conditioned stroke.
type Result struct {
	Path geom.Path
	// Deviation is the largest distance in mm between the stroke as drawn and
	// Path, either way, and DeviationAt the place of it on whichever is off.
	// A coarse polyline counts as the smooth curve it stands for.
	Deviation   float64
	DeviationAt geom.Point
	Problems    []Problem // in order along the stroke
}

// withDefaults fills in radii left out.
func (l Limits) withDefaults() Limits {
	if !(l.Diameter > 0) || math.IsInf(l.Diameter, 0) {
		panic("condition: Limits.Diameter must be over 0")
	}
	if !(l.MinRadius > 0) {
		l.MinRadius = leastRadius * l.Diameter
	}
	if !(l.CornerRadius > 0) {
		l.CornerRadius = cornerRadius * l.Diameter
	}
	l.CornerRadius = max(l.CornerRadius, l.MinRadius)
	return l
}

// Stroke returns the stroke made fit for the tube. Its ends stay where they
// are; a closed stroke stays closed but may start elsewhere. Directions are
// continuous to 0.01 degree and no arc is tighter than MinRadius, whatever the
// stroke, provided its coordinates are finite and it has some length;
// otherwise Path is empty.
//
// A stroke mirrored or scaled (Limits with it) gives the result mirrored or
// scaled, to a few micrometres, and so does one turned unless it has an apex:
// top, bottom and level are meant as the sign hangs. Drawn backwards it gives
// the result backwards, but that where a curve had to be opened the two are
// alike rather than the same.
func Stroke(p geom.Path, lim Limits) Result {
	lim = lim.withDefaults()
	p = sound(p)
	if len(p.Segments) == 0 {
		return Result{}
	}
	if lim.Smooth {
		p = smoothed(p, lim)
	} else {
		p = straightened(swept(p, lim), lim)
	}
	w := &worker{lim: lim, drawn: p}
	out := w.rounded()
	out = w.opened(out)
	out = tidied(out, lim)
	if !fits(out, lim.MinRadius) || !meets(out, p) || out.Length() > strays*p.Length() {
		out = w.asWhole()
	} else {
		w.judge(out)
	}
	r := Result{Path: out, Problems: w.problems}
	r.Deviation, r.DeviationAt = apart(p, out, lim.Diameter/measureStep)
	limit := shortStroke * lim.Diameter
	if p.Length() < limit && r.Deviation > lim.Diameter/2 || len(out.Segments) == 0 || !p.Closed && out.Length() > 2*strays*p.Length() {
		return w.straight(limit)
	}
	sortAlong(r.Problems, p)
	return r
}

// worker carries one stroke through the stages.
type worker struct {
	lim      Limits
	drawn    geom.Path
	problems []Problem
	failed   []failure
}

func (w *worker) note(at geom.Point, k Kind, want, got float64) {
	w.problems = append(w.problems, Problem{at, k, want, got})
}

// sound returns the path without segments that have no length, and nothing if
// a coordinate is not finite.
func sound(p geom.Path) geom.Path {
	out := geom.Path{Closed: p.Closed}
	box := geom.EmptyRect()
	for _, g := range p.Segments {
		n := g.Length()
		if !g.Start().IsFinite() || !g.End().IsFinite() || math.IsInf(n, 0) || math.IsNaN(n) {
			return geom.Path{}
		}
		box = box.Including(g.Start()).Including(g.End())
		if n > 1e-9 {
			out.Segments = append(out.Segments, g)
		}
	}
	if max(math.Abs(box.Min.X), math.Abs(box.Max.X), math.Abs(box.Min.Y), math.Abs(box.Max.Y)) > 1e8 {
		return geom.Path{}
	}
	return out
}

// asWhole fits the whole stroke at once: the answer where the parts did not
// come together.
func (w *worker) asWhole() geom.Path {
	w.problems = nil
	if least := w.tightest(); least < w.lim.MinRadius {
		w.note(w.drawn.Start(), CurveTight, w.lim.MinRadius, least)
	}
	r, err := fit.Curve(w.drawn.Samples(w.lim.Diameter/8), fit.Options{
		Tol: openTol * w.lim.Diameter, MinRadius: w.lim.MinRadius, Closed: w.drawn.Closed,
	})
	if err != nil { // an open path whose ends coincide and nothing between
		return geom.Path{}
	}
	return r.Path
}

// tightest returns the least radius drawn; a closed stroke has none over that
// of the circle as long as it.
func (w *worker) tightest() float64 {
	least := math.Inf(1)
	if w.drawn.Closed {
		least = w.drawn.Length() / (2 * math.Pi)
	}
	for _, g := range w.drawn.Segments {
		if a, ok := g.(geom.Arc); ok {
			least = min(least, a.Radius)
		}
	}
	return least
}

// straight gives up bending: a line from end to end, or along the longest
// reach of a closed stroke.
func (w *worker) straight(limit float64) Result {
	a, b := w.drawn.Start(), w.drawn.End()
	if a.Dist(b) < 1e-3*w.lim.Diameter {
		for _, q := range w.drawn.Samples(w.lim.Diameter / 16) {
			if q.Dist(a) > b.Dist(a) {
				b = q
			}
		}
	}
	out := geom.Path{Segments: []geom.Segment{geom.Line{A: a, B: b}}}
	r := Result{Path: out, Problems: []Problem{{a, StrokeShort, limit, w.drawn.Length()}}}
	r.Deviation, r.DeviationAt = apart(w.drawn, out, w.lim.Diameter/measureStep)
	return r
}
