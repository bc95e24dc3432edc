package fit

import (
	"errors"
	"fmt"
	"math"

	"tubewright/geom"
)

// Options tells Curve what to hold. The zero value fits an open curve within
// DefaultTol, ends free to turn and arcs as tight as needed.
type Options struct {
	Tol       float64  // mm, greatest distance between path and polyline; 0 means DefaultTol
	MinRadius float64  // mm, no arc is tighter; 0 means no limit. Wins over Tol
	Closed    bool     // the last point joins the first
	StartDir  geom.Vec // direction of travel at the first point; zero is free. Not for closed curves
	EndDir    geom.Vec // direction of travel at the last point; zero is free. Not for closed curves
}

// DefaultTol is the tolerance used when Options.Tol is zero, in mm: about what
// a pencil line on a paper pattern is wide (common practice, no source).
const DefaultTol = 0.2

// Result is a fitted path and how well it fits.
type Result struct {
	// Path is tangent-continuous. An open path starts and ends exactly at the
	// first and last point; a closed one may start anywhere on the curve.
	Path geom.Path
	// Deviation is the largest distance, in mm, of an input point from the
	// path and of the path from the polyline, both taken in order along the
	// curve: a strand nearby does not count as near.
	Deviation float64
}

// farthest keeps every square and sum far from overflow, in mm.
const farthest = 1e9

// Errors of Curve; the message adds the point concerned.
var (
	errTooFew    = errors.New("a curve needs two distinct points")
	errNotFinite = errors.New("coordinate is not a finite number")
	errTooFar    = errors.New("coordinate is more than 1e9 mm from the origin; check the unit")
	errOption    = errors.New("option is not a finite number of mm, 0 or more")
)

// Curve fits lines and arcs to the polyline through points. Consecutive equal
// points are dropped. With MinRadius zero the deviation is at most Tol; with a
// MinRadius the polyline cannot follow, the radius is held and Deviation says
// what that cost. The same input gives the same path on every machine; the
// mirrored, turned or scaled input (Tol and MinRadius scaled with it) gives the
// mirrored, turned or scaled path up to rounding.
func Curve(points []geom.Point, opt Options) (Result, error) {
	if err := opt.check(); err != nil {
		return Result{}, err
	}
	if opt.Tol == 0 {
		opt.Tol = DefaultTol
	}
	pts, err := clean(points, opt.Closed)
	if err != nil {
		return Result{}, err
	}
	if opt.Closed && len(pts) < 4 { // out and back: no loop to follow
		opt.Closed = false
		pts = pts[:len(pts)-1]
	}
	// Work near the origin, where coordinates have the most digits.
	origin := pts[0].Sub(geom.Point{})
	for i := range pts {
		pts[i] = pts[i].Add(origin.Neg())
	}
	f := &fitter{pts: pts, opt: opt}
	path, dev := f.run()
	path = path.Map(geom.SimilarityMap{Scale: 1, Move: origin})
	return Result{Path: path, Deviation: dev}, nil
}

func (o Options) check() error {
	for _, v := range []float64{o.Tol, o.MinRadius} {
		if !(v >= 0) || math.IsInf(v, 0) {
			return fmt.Errorf("fit: %w: %v", errOption, v)
		}
	}
	for _, v := range []geom.Vec{o.StartDir, o.EndDir} {
		if !geom.Point(v).IsFinite() {
			return fmt.Errorf("fit: %w: direction (%v, %v)", errNotFinite, v.X, v.Y)
		}
	}
	return nil
}

// clean returns the points without consecutive repeats; a closed curve gets its
// first point again at the end.
func clean(points []geom.Point, closed bool) ([]geom.Point, error) {
	box := geom.EmptyRect()
	for i, p := range points {
		if !p.IsFinite() {
			return nil, fmt.Errorf("fit: point %d: %w: (%v, %v)", i, errNotFinite, p.X, p.Y)
		}
		if math.Abs(p.X) > farthest || math.Abs(p.Y) > farthest {
			return nil, fmt.Errorf("fit: point %d: %w: (%v, %v)", i, errTooFar, p.X, p.Y)
		}
		box = box.Including(p)
	}
	// Points closer than this are one point: their direction is rounding noise.
	near := 1e-12 * max(math.Abs(box.Min.X), math.Abs(box.Max.X), math.Abs(box.Min.Y), math.Abs(box.Max.Y))
	near = max(near, 1e-9*math.Hypot(box.Width(), box.Height()))
	var out []geom.Point
	for _, p := range points {
		if len(out) == 0 || out[len(out)-1].Dist(p) > near {
			out = append(out, p)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("fit: %w, got none", errTooFew)
	}
	last := points[len(points)-1]
	if closed {
		for len(out) > 1 && out[len(out)-1].Dist(out[0]) <= near {
			out = out[:len(out)-1]
		}
		last = out[0]
		out = append(out, last)
	} else if len(out) > 1 {
		out[len(out)-1] = last // the end is met exactly even if its repeat was dropped
	}
	if len(out) < 2 || closed && len(out) < 3 {
		return nil, fmt.Errorf("fit: %w, got only (%v, %v)", errTooFew, points[0].X, points[0].Y)
	}
	return out, nil
}
