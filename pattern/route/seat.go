package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/tube"
)

// KeepOut is a place behind the sign where no electrode may stand: the points
// within Reach of a line, or of the area within it. One point makes a circle.
// Millimetres, front frame.
type KeepOut struct {
	Name   string
	Points []geom.Point
	Filled bool // the points go round an area
	Reach  float64
}

// Grid is the holes of a panel drilled beforehand: one at At, and others Pitch
// mm apart both ways. A Pitch of 0 is no grid.
type Grid struct {
	Pitch float64
	At    geom.Point
}

// surfaceGap is what the glass keeps from any surface but its supports, mm
// (P, S33g).
const surfaceGap = 6.0

// distance returns how far a place is from the keep-out, 0 within it.
func (k KeepOut) distance(q geom.Point) float64 {
	d := k.Points[0].Dist(q)
	inside := false
	n := len(k.Points)
	for i, a := range k.Points {
		if i+1 == n && !k.Filled {
			break
		}
		b := k.Points[(i+1)%n]
		g := geom.Line{A: a, B: b}
		if g.Length() > 0 {
			d = min(d, g.PointAt(g.Nearest(q)).Dist(q))
		}
		if (a.Y > q.Y) != (b.Y > q.Y) && q.X < a.X+(b.X-a.X)*(q.Y-a.Y)/(b.Y-a.Y) {
			inside = !inside
		}
	}
	if inside && k.Filled {
		return 0
	}
	return max(0, d-k.Reach)
}

// leg is the glass from the turn behind the face at an end of a unit to its
// electrode, going back.
type leg struct {
	segs []geom.Segment3
	bad  string // why it does not stand where it should, "" if it does
}

// seatReach is how far, in D, an electrode may be moved from the end of its
// stroke; seatStep is the step of the places tried, where there is no grid.
const (
	seatReach = 6.0
	seatStep  = 0.5
)

// seats returns the places where the electrode of an end at q may stand, the
// nearest first.
func (p *planner) seatsFor(q geom.Point) []geom.Point {
	var out []geom.Point
	reach := seatReach * p.rules.Diameter
	if g := p.options.Grid; g.Pitch > 0 {
		reach = max(reach, g.Pitch)
		at := func(v, from float64, k int) float64 { return from + g.Pitch*(math.Round((v-from)/g.Pitch)+float64(k)) }
		n := int(math.Ceil(reach / g.Pitch))
		for i := -n; i <= n; i++ {
			for j := -n; j <= n; j++ {
				out = append(out, geom.Point{X: at(q.X, g.At.X, i), Y: at(q.Y, g.At.Y, j)})
			}
		}
		slices.SortStableFunc(out, func(a, b geom.Point) int { return cmp.Compare(a.Dist(q), b.Dist(q)) })
	} else {
		out = append(out, q)
		for d := seatStep; len(p.options.KeepOuts) > 0 && d <= seatReach; d += seatStep {
			for k := range 16 {
				a := math.Pi / 8 * float64(k)
				out = append(out, q.Add(geom.Vec{X: math.Cos(a), Y: math.Sin(a)}.Mul(d*p.rules.Diameter)))
			}
		}
	}
	return slices.DeleteFunc(out, func(at geom.Point) bool {
		return at.Dist(q) > reach || slices.ContainsFunc(p.options.KeepOuts, func(k KeepOut) bool {
			return k.distance(at) < p.rules.Diameter/2+surfaceGap
		})
	})
}

// seatNear is how near to the end of its stroke an electrode counts as
// standing behind it, mm: a leg is not bent for less.
const seatNear = 0.25

// legTo builds the leg from an end at q, so far behind the face, to an
// electrode behind at: straight back, or aside first by two equal bends.
func (p *planner) legTo(q geom.Point, top float64, at geom.Point) []geom.Segment3 {
	r := p.rules.DoubleBackRadius
	d := q.Dist(at)
	if d < seatNear {
		return []geom.Segment3{geom.Line3{A: q.At(-top), B: q.At(-top - p.legLength())}}
	}
	turn := math.Pi / 2
	if d < 2*r {
		turn = math.Acos(1 - d/(2*r))
	}
	t := r * math.Tan(turn/2)
	down := t
	if d < 2*r {
		down += 2 * t * math.Cos(turn)
	}
	segs, err := tube.Fillet([]tube.Vertex{
		{P: q.At(-top)}, {P: q.At(-top - t), R: r}, {P: at.At(-top - down), R: r}, {P: at.At(-top - down - t - p.legLength())},
	})
	if err != nil {
		panic(err) // the polygon was made to fit
	}
	return segs
}

// weighSeats prices the ends of runs for electrodes: nothing where a leg goes
// straight back, else its bends, and much where none can stand.
func (y *layer) weighSeats() {
	p := y.p
	if p.options.Grid.Pitch == 0 && len(p.options.KeepOuts) == 0 {
		return
	}
	for i := range y.runs {
		for side := range 2 {
			s := step{i, side}
			l := y.legOf(s, false, nil)
			switch {
			case l.bad != "":
				p.seats[endKey(s, false)] = 2 * p.costs.Electrodes
			case len(l.segs) > 1:
				n := 0.0
				for _, g := range l.segs[:len(l.segs)-1] {
					n += g.Length()
				}
				p.seats[endKey(s, false)] = 2*p.costs.Bend + p.costs.Hidden*n
			}
		}
	}
}

// seatCost is what an electrode at the entry or exit of a step costs beyond
// one behind a straight leg.
func (p *planner) seatCost(s step, exit bool) float64 { return p.seats[endKey(s, exit)] }

// legOf finds the nearest place for the electrode of an end where its leg is
// clear of all glass there is; where it can, as far from the unit's other
// electrode as opposite ends should be.
func (y *layer) legOf(s step, exit bool, other *geom.Point) leg {
	_, at, top := y.post(s, exit)
	var second []geom.Segment3 // the best that is too near the other electrode
	for _, seat := range y.p.seatsFor(at) {
		tooNear := other != nil && seat.Dist(*other) < y.p.options.Apart
		if tooNear && second != nil {
			continue
		}
		segs := y.p.legTo(at, top, seat)
		if !(len(segs) == 1 && y.p.options.Grid.Pitch == 0) && !y.legClear(s, exit, segs) {
			continue
		}
		if !tooNear {
			return leg{segs: segs}
		}
		second = segs
	}
	if second != nil {
		return leg{segs: second}
	}
	bad := "the electrode stands in a keep-out, and no place near is clear"
	if y.p.options.Grid.Pitch > 0 {
		bad = "the electrode stands off the hole grid: no hole near is free"
	}
	return leg{y.p.legTo(at, top, at), bad}
}

// legClear reports whether a leg keeps clear of other glass.
func (y *layer) legClear(s step, exit bool, segs []geom.Segment3) bool {
	need, window := y.p.rules.Need()-slack, y.p.window()
	body, _, _ := y.post(s, exit)
	side := s.from
	if exit {
		side = 1 - s.from
	}
	clear := true
	for _, m := range tube.SampleSegments(0, 0, segs) {
		y.world.Visit(m.P, func(o tube.Sample, d float64) {
			own := o.Body == body || o.Body == s.run && m.Pos+y.fromEnd(s.run, side, o.Pos) < window
			clear = clear && (d >= need || own)
		})
		if !clear {
			return false
		}
	}
	return true
}

// seat finds a place for the electrode of an end and puts its leg into the
// world; first is the entry of the unit whose exit it is.
func (y *layer) seat(s step, exit bool, first step) {
	var other *geom.Point
	if exit {
		at := y.seal(first, false).Plan()
		other = &at
	}
	l := y.legOf(s, exit, other)
	y.legs[endKey(s, exit)] = l
	body, _, _ := y.post(s, exit)
	y.record(func() { y.world.Add(body, 0, l.segs) })
}

// seal returns where the electrode of an end stands.
func (y *layer) seal(s step, exit bool) geom.Point3 {
	l := y.legs[endKey(s, exit)]
	return l.segs[len(l.segs)-1].End()
}

// leg returns the pieces of a leg in the direction of travel.
func (y *layer) leg(s step, exit bool) tube.Tube {
	l := y.legs[endKey(s, exit)]
	var t tube.Tube
	for i, g := range l.segs {
		role := tube.Hidden
		if i+1 == len(l.segs) {
			role = tube.Leg
		}
		t = append(t, tube.Piece{Seg: g, Role: role})
	}
	if exit {
		return t
	}
	return t.Reversed()
}

// checkSeats files electrodes that do not stand where the job has room for
// them, and pairs nearer than they should be.
func (y *layer) checkSeats(c chainOf) {
	file := func(s step, f finding.Finding) {
		l := y.p.lanes[y.runs[s.run].lane]
		f.Stroke = l.ID
		y.p.add(f, l)
	}
	for k, start := range c.cuts {
		end := len(c.order)
		if k+1 < len(c.cuts) {
			end = c.cuts[k+1]
		}
		first, last := c.order[start], c.order[end-1]
		for _, e := range []struct {
			s    step
			exit bool
		}{{first, false}, {last, true}} {
			if bad := y.legs[endKey(e.s, e.exit)].bad; bad != "" {
				file(e.s, finding.Finding{Code: "electrode-place", Severity: finding.Error, At: y.seal(e.s, e.exit), What: bad,
					Remedy: "place the electrode at another end of a stroke with [[letter]] electrode, or move the keep-out or the grid"})
			}
		}
		if d := y.seal(first, false).Plan().Dist(y.seal(last, true).Plan()); d < y.p.options.Apart-0.05 {
			file(first, finding.Finding{Code: "electrodes-near", Severity: finding.Note, At: y.seal(first, false), Got: d, Want: y.p.options.Apart,
				What:   "the two electrodes of one unit stand near each other, centre to centre: opposite ends of high voltage",
				Remedy: fmt.Sprintf("use receptacles made for it, or part them: [[letter]] electrode places them, electrodes-apart is %.4g mm", y.p.options.Apart)})
		}
	}
}
