package route

import (
	"container/heap"
	"math"
	"slices"

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
	t := &trellis{first: map[int][2]int{}}
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

// shortest returns the stops of the shortest way.
func (t *trellis) shortest(from, to int) (stops []int, length float64) {
	dist, back := t.spread(from)
	return trackBack(dist, back, to), dist[to]
}

// spread returns how far every stop is from one, and the stop before it on the
// shortest way (Dijkstra, 1959).
func (t *trellis) spread(from int) (dist []float64, back []int) {
	dist = make([]float64, len(t.at))
	back = make([]int, len(t.at))
	for i := range dist {
		dist[i], back[i] = math.Inf(1), -1
	}
	dist[from] = 0
	q := &queue{{from, 0}}
	for q.Len() > 0 {
		s := heap.Pop(q).(hop)
		if s.d > dist[s.to] {
			continue
		}
		for _, h := range t.near[s.to] {
			if d := s.d + h.d; d < dist[h.to]-1e-9 && !t.closed[h.to] {
				dist[h.to], back[h.to] = d, s.to
				heap.Push(q, hop{h.to, d})
			}
		}
	}
	return dist, back
}

// trackBack lists the stops from where back began to a stop; none where it
// cannot be reached.
func trackBack(dist []float64, back []int, to int) []int {
	if math.IsInf(dist[to], 1) {
		return nil
	}
	var stops []int
	for i := to; i >= 0; i = back[i] {
		stops = append(stops, i)
	}
	slices.Reverse(stops)
	return stops
}

// track is shortest without the length.
func (t *trellis) track(from, to int) []int {
	stops, _ := t.shortest(from, to)
	return stops
}

// trackAlong returns the shortest way that runs along at least half of the
// stops of one lane, from first[0] and before first[1].
func (t *trellis) trackAlong(from, to int, lane [2]int) []int {
	dist, back := t.spread(from)
	rest, ahead := t.spread(to)
	least := (lane[1] - lane[0]) / 2
	best, in, out := math.Inf(1), -1, -1
	for i := lane[0]; i < lane[1]; i++ {
		for j := lane[0]; j < lane[1]; j++ {
			if max(i-j, j-i) < least {
				continue
			}
			if d := dist[i] + t.at[i].Dist(t.at[j]) + rest[j]; d < best-1e-9 {
				best, in, out = d, i, j
			}
		}
	}
	if in < 0 {
		return nil
	}
	stops := trackBack(dist, back, in)
	for i := in; i != out; {
		if i < out {
			i++
		} else {
			i--
		}
		stops = append(stops, i)
	}
	tail := trackBack(rest, ahead, out)
	slices.Reverse(tail)
	return append(stops, tail[1:]...)
}

// without returns the net with the stops of some lanes closed, but for those
// within reach of two places.
func (t *trellis) without(lanes map[int]bool, open [2]geom.Point, reach float64) *trellis {
	out := *t
	out.closed = make([]bool, len(t.at))
	for lane, stops := range t.first {
		for i := stops[0]; lanes[lane] && i < stops[1]; i++ {
			out.closed[i] = t.at[i].Dist(open[0]) > reach && t.at[i].Dist(open[1]) > reach
		}
	}
	return &out
}

// corners returns the corners of a way over stops between two places, and its
// length.
func (t *trellis) corners(from geom.Point, stops []int, to geom.Point, tol float64) ([]geom.Point, float64) {
	pts := []geom.Point{from}
	for _, s := range stops {
		pts = append(pts, t.at[s])
	}
	pts = simplified(append(pts, to), tol)
	length := 0.0
	for i := 1; i < len(pts); i++ {
		length += pts[i-1].Dist(pts[i])
	}
	return pts[1 : len(pts)-1], length
}

type queue []hop

func (q queue) Len() int           { return len(q) }
func (q queue) Less(i, j int) bool { return q[i].d < q[j].d || q[i].d == q[j].d && q[i].to < q[j].to }
func (q queue) Swap(i, j int)      { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)        { *q = append(*q, x.(hop)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
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
