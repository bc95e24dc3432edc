package condition

import (
	"math"

	"tubewright/geom"
	"tubewright/geom/fit"
)

// Limits are what the tube allows, mm.
type Limits struct {
	Diameter, MinRadius, CornerRadius float64
	Smooth                            bool // polyline input whose shallow corners are meant as curves
}

// Kind names a problem.
type Kind int

const CornerNoRoom Kind = iota

func (k Kind) String() string { return "corner-no-room" }

// Words says what is wrong.
func (k Kind) Words() string { return "the corner has no room for a bend of the least radius" }

// Problem is a place where the glass cannot follow.
type Problem struct {
	At        geom.Point
	Kind      Kind
	Want, Got float64
}

// Result is a conditioned stroke.
type Result struct {
	Path        geom.Path
	Deviation   float64
	DeviationAt geom.Point
	Problems    []Problem
}

// Stroke conditions one stroke.
func Stroke(p geom.Path, lim Limits) Result {
	tol := 0.02 * lim.Diameter
	for {
		r, err := fit.Curve(p.Samples(1), fit.Options{Tol: tol, MinRadius: lim.MinRadius, Closed: p.Closed})
		if err != nil {
			return Result{Path: p}
		}
		if r.Deviation < 2*tol || tol > lim.Diameter {
			return Result{Path: r.Path, Deviation: r.Deviation, DeviationAt: p.PointAt(math.Abs(p.Length() / 2))}
		}
		tol *= 2
	}
}
