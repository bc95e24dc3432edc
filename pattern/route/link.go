package route

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/tube"
)

// link is hidden glass from the exit of one run to the entry of the next.
type link struct {
	segs  []geom.Segment3 // none where there is no link
	len   float64
	plane int // the nearest behind the face is 0
	body  int // in the world, once it is placed
}

// maxPlanes is how many planes behind the face a link may be tried in, and
// maxDetours how many corners it may take round other glass.
const (
	maxPlanes  = 5
	maxDetours = 3
)

// layer lays links into a world that holds the lit glass, the posts and the
// links laid before.
type layer struct {
	p     *planner
	runs  []run
	world *tube.World // bodies: runs 0..n-1; posts n + 2·run + side; links above
	next  int
	kept  []func()    // what put the posts and legs of the lines done into the world
	laid  []func()    // and those of the line in work
	links []link      // of the lines done
	legs  map[int]leg // of the line in work, by end (see endKey)
}

func (p *planner) newLayer(runs []run) *layer {
	y := &layer{p: p, runs: runs, world: tube.NewWorld(p.rules.Need() + 0.5), next: 3 * len(runs), legs: map[int]leg{}}
	for i, r := range runs {
		y.world.Add(i, 0, r.segs)
	}
	return y
}

// post returns the body number of the straight glass behind the entry or exit
// of a step, its place, and how far behind the face it begins.
func (y *layer) post(s step, exit bool) (body int, at geom.Point, top float64) {
	side := s.from
	if exit {
		side = 1 - s.from
	}
	run := y.runs[s.run]
	return len(y.runs) + 2*s.run + side, run.place[side], run.top[side]
}

// addPost places the straight glass behind an end down to the given depth.
func (y *layer) addPost(s step, exit bool, depth float64) {
	body, at, top := y.post(s, exit)
	if depth <= top {
		return
	}
	y.world.Add(body, 0, []geom.Segment3{geom.Line3{A: at.At(-top), B: at.At(-depth)}})
}

// find returns the link from a to b in the nearest plane, and by the cheapest way
// there, that keeps clear of all glass there is. In each plane the cheaper of a
// jump and a way behind the strokes is tried first.
func (y *layer) find(a, b step, way int) (link, bool) {
	if way > 0 {
		return y.findFixed(a, b, y.p.choices(y.runs, a, b)[way-1])
	}
	hidden := y.p.bypassOf(y.runs, a, b)
	cost, ok := y.p.bypassCost(y.runs, a, b)
	hiddenFirst := ok && cost < y.p.jumpCost(y.runs, a, b)
	if hiddenFirst && y.p.options.Taste == TasteLeastPaint { // rather deeper than in the open
		if l, ok := y.findFixed(a, b, choice{via: hidden.via}); ok {
			return l, true
		}
	}
	for plane := range maxPlanes {
		if hiddenFirst {
			if l, ok := y.exactWay(a, b, plane, hidden.via); ok {
				return l, true
			}
		}
		if l, ok := y.way(a, b, plane, nil); ok {
			return l, true
		}
		if ok && !hiddenFirst {
			if l, ok := y.exactWay(a, b, plane, hidden.via); ok {
				return l, true
			}
		}
	}
	return link{}, false
}

// findFixed returns a link the way that was chosen for it.
func (y *layer) findFixed(a, b step, w choice) (link, bool) {
	for plane := range maxPlanes {
		if l, ok := y.exactWay(a, b, plane, w.via); ok {
			return l, true
		}
	}
	return link{}, false
}

// exactWay is the way through the given corners, if it is clear.
func (y *layer) exactWay(a, b step, plane int, via []geom.Point) (link, bool) {
	l, err := y.shape(a, b, plane, via)
	if err != nil {
		return link{}, false
	}
	_, blocked := y.blocked(a, b, l)
	return l, !blocked
}

// way tries the straight way through the given corners in one plane, then
// ways round what stands in it.
func (y *layer) way(a, b step, plane int, via []geom.Point) (link, bool) {
	l, err := y.shape(a, b, plane, via)
	if err == nil {
		block, blocked := y.blocked(a, b, l)
		if !blocked {
			return l, true
		}
		if len(via) == maxDetours {
			return link{}, false
		}
		for _, side := range []float64{1, -1} {
			if more, ok := y.detour(a, b, via, block, side); ok {
				if l, ok := y.way(a, b, plane, more); ok {
					return l, true
				}
			}
		}
	}
	return link{}, false
}

// detour adds a corner beside a blocking point, on the given side of the leg
// of the way that runs into it.
func (y *layer) detour(a, b step, via []geom.Point, block geom.Point, side float64) ([]geom.Point, bool) {
	_, from, _ := y.post(a, true)
	_, to, _ := y.post(b, false)
	pts := append(append([]geom.Point{from}, via...), to)
	best, at := math.Inf(1), 0
	for i := 0; i+1 < len(pts); i++ {
		g := geom.Line{A: pts[i], B: pts[i+1]}
		if d := g.PointAt(g.Nearest(block)).Dist(block); d < best {
			best, at = d, i
		}
	}
	dir := pts[at+1].Sub(pts[at]).Unit()
	if dir == (geom.Vec{}) {
		return nil, false
	}
	corner := block.Add(dir.Left().Mul(side * (y.p.rules.Need() + 0.6*y.p.rules.Diameter)))
	more := append([]geom.Point(nil), pts[1:at+1]...)
	more = append(more, corner)
	return append(more, pts[at+1:len(pts)-1]...), true
}

// shape builds the link: down the first post, along the way, up the second.
func (y *layer) shape(a, b step, plane int, via []geom.Point) (link, error) {
	rules := y.p.rules
	_, from, top0 := y.post(a, true)
	_, to, top1 := y.post(b, false)
	depth := rules.BackPlane + float64(plane)*rules.PlaneStep
	turn := rules.DoubleBackRadius
	if len(via) == 0 {
		turn = min(turn, from.Dist(to)/2)
	}
	turn = max(turn, rules.MinRadius)
	vs := []tube.Vertex{{P: from.At(-top0)}, {P: from.At(-depth), R: turn}}
	for _, v := range via {
		vs = append(vs, tube.Vertex{P: v.At(-depth), R: rules.DoubleBackRadius})
	}
	vs = append(vs, tube.Vertex{P: to.At(-depth), R: turn}, tube.Vertex{P: to.At(-top1)})
	segs, err := tube.Fillet(vs)
	if err != nil {
		return link{}, err
	}
	l := link{segs: segs, plane: plane}
	for _, s := range segs {
		l.len += s.Length()
	}
	return l, nil
}

// blocked returns the first place where a link comes too near other glass.
func (y *layer) blocked(a, b step, l link) (geom.Point, bool) {
	need, window := y.p.rules.Need()-slack, y.p.window()
	mine := map[int]bool{}
	for _, e := range []struct {
		s    step
		exit bool
	}{{a, true}, {b, false}} {
		body, _, _ := y.post(e.s, e.exit)
		mine[body] = true
	}
	for _, s := range tube.SampleSegments(0, 0, l.segs) {
		var at geom.Point
		hit := false
		y.world.Visit(s.P, func(o tube.Sample, d float64) {
			if hit || d >= need || mine[o.Body] {
				return
			}
			if o.Body == a.run && s.Pos+y.fromEnd(a.run, 1-a.from, o.Pos) < window {
				return
			}
			if o.Body == b.run && l.len-s.Pos+y.fromEnd(b.run, b.from, o.Pos) < window {
				return
			}
			hit, at = true, o.P.Plan()
		})
		if hit {
			return at, true
		}
	}
	return geom.Point{}, false
}

// fromEnd returns how far a position on a run is from one of its ends.
func (y *layer) fromEnd(run, side int, pos float64) float64 {
	if side == 0 {
		return pos
	}
	return y.runs[run].len - pos
}
