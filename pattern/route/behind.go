package route

import (
	"math"

	"tubewright/geom"
)

// A link can jump straight across, in the open, or double back behind the
// strokes of its letter, where it is not seen and needs no paint all round.

// bypass is a way behind the strokes of one letter, from an end to an end.
type bypass struct {
	length float64
	via    []geom.Point // corners between the two ends
	ok     bool
}

// trellis is the strokes of one letter as a net of stops, half a diameter
// apart, on which ways behind the strokes are sought.
type trellis struct {
	at     []geom.Point
	near   [][]hop
	closed []bool         // stops that no way may take
	known  map[int]spread // ways from stops asked about before
	first  map[int][2]int // stops of each lane, from and past
	lanes  []*lane
}

type hop struct {
	to int
	d  float64
}

// trellisFor returns the net of a letter, made when it is first asked for.
func (p *planner) trellisFor(letter int) *trellis {
	t, ok := p.trellises[letter]
	if !ok {
		t = p.trellisOf(letter)
		p.trellises[letter] = t
	}
	return t
}

// trellisOf builds the net of the lanes that belong to one letter.
func (p *planner) trellisOf(letter int) *trellis {
	t := &trellis{first: map[int][2]int{}, known: map[int]spread{}}
	step := p.rules.Diameter / 2
	for i, l := range p.lanes {
		if l.Letter != letter {
			continue
		}
		from := len(t.at)
		n := max(1, int(math.Ceil(l.length/step)))
		for k := range n + 1 {
			t.at = append(t.at, l.Path.PointAt(l.length*float64(k)/float64(n)))
		}
		t.first[i] = [2]int{from, len(t.at)}
		t.lanes = append(t.lanes, l)
	}
	t.closed = make([]bool, len(t.at))
	t.near = make([][]hop, len(t.at))
	for a := range t.at {
		for b := range a {
			if d := t.at[a].Dist(t.at[b]); d < 1.6*step {
				t.near[a] = append(t.near[a], hop{b, d})
				t.near[b] = append(t.near[b], hop{a, d})
			}
		}
	}
	return t
}

// stopOf returns the stop of a lane nearest to a place.
func (t *trellis) stopOf(lane int, q geom.Point) int {
	best, at := math.Inf(1), -1
	for i := t.first[lane][0]; i < t.first[lane][1]; i++ {
		if d := t.at[i].Dist(q); d < best {
			best, at = d, i
		}
	}
	return at
}

// bypassOf returns the way behind the strokes from the exit of one step to the
// entry of the next, if both are of one letter.
func (p *planner) bypassOf(runs []run, a, b step) bypass {
	from, to := endKey(a, true), endKey(b, false)
	key := [2]int{min(from, to), max(from, to)}
	if w, ok := p.bypasses[key]; ok {
		if from > to {
			w.via = reversedPoints(w.via)
		}
		return w
	}
	ra, rb := runs[a.run], runs[b.run]
	letter := p.lanes[ra.lane].Letter
	var w bypass
	if letter == p.lanes[rb.lane].Letter {
		t := p.trellisFor(letter)
		start, end := ra.place[1-a.from], rb.place[b.from]
		stops, length := t.shortest(t.stopOf(ra.lane, start), t.stopOf(rb.lane, end))
		if len(stops) > 0 {
			via, _ := t.corners(start, stops, end, 0.3*p.rules.Diameter)
			w = bypass{length: length, via: via, ok: true}
		}
	}
	if from > to {
		p.bypasses[key] = bypass{w.length, reversedPoints(w.via), w.ok}
	} else {
		p.bypasses[key] = w
	}
	return w
}

func reversedPoints(pts []geom.Point) []geom.Point {
	out := make([]geom.Point, len(pts))
	for i, q := range pts {
		out[len(pts)-1-i] = q
	}
	return out
}

// simplified drops points that lie within tol of the line between those kept
// (Douglas and Peucker, 1973).
func simplified(pts []geom.Point, tol float64) []geom.Point {
	if len(pts) < 3 {
		return pts
	}
	line := geom.Line{A: pts[0], B: pts[len(pts)-1]}
	worst, at := 0.0, 0
	for i, q := range pts[1 : len(pts)-1] {
		if d := line.PointAt(line.Nearest(q)).Dist(q); d > worst {
			worst, at = d, i+1
		}
	}
	if worst <= tol {
		return []geom.Point{pts[0], pts[len(pts)-1]}
	}
	left := simplified(pts[:at+1], tol)
	return append(left[:len(left)-1:len(left)-1], simplified(pts[at:], tol)...)
}
