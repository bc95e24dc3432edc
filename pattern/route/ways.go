package route

import (
	"math"
	"slices"

	"tubewright/geom"
)

// shortest returns the stops of the shortest way.
func (t *trellis) shortest(from, to int) (stops []int, length float64) {
	w := t.waysFrom(from)
	return w.to(to), w.dist[to]
}

// spread is the shortest ways from one stop: how far every stop is, and the one
// before it.
type spread struct {
	dist []float64
	back []int
}

// waysFrom returns the shortest ways from a stop (Dijkstra, 1959).
func (t *trellis) waysFrom(from int) spread {
	if w, ok := t.known[from]; ok {
		return w
	}
	w := spread{make([]float64, len(t.at)), make([]int, len(t.at))}
	for i := range w.dist {
		w.dist[i], w.back[i] = math.Inf(1), -1
	}
	w.dist[from] = 0
	for q := (queue{{from, 0}}); len(q) > 0; {
		s := q.pop()
		if s.d > w.dist[s.to] {
			continue
		}
		for _, h := range t.near[s.to] {
			if d := s.d + h.d; d < w.dist[h.to]-1e-9 && !t.closed[h.to] {
				w.dist[h.to], w.back[h.to] = d, s.to
				q.push(hop{h.to, d})
			}
		}
	}
	t.known[from] = w
	return w
}

// to lists the stops of the way to one; none where it cannot be reached.
func (w spread) to(stop int) []int {
	if math.IsInf(w.dist[stop], 1) {
		return nil
	}
	var stops []int
	for i := stop; i >= 0; i = w.back[i] {
		stops = append(stops, i)
	}
	slices.Reverse(stops)
	return stops
}

// queue is a heap of hops, the nearest first; of equals, the lower stop.
type queue []hop

func (q queue) less(i, j int) bool { return q[i].d < q[j].d || q[i].d == q[j].d && q[i].to < q[j].to }

func (q *queue) push(h hop) {
	*q = append(*q, h)
	for i := len(*q) - 1; i > 0 && q.less(i, (i-1)/2); i = (i - 1) / 2 {
		(*q)[i], (*q)[(i-1)/2] = (*q)[(i-1)/2], (*q)[i]
	}
}

func (q *queue) pop() hop {
	h, n := *q, len(*q)-1
	top := h[0]
	h[0] = h[n]
	h = h[:n]
	for i := 0; 2*i+1 < n; {
		k := 2*i + 1
		if k+1 < n && h.less(k+1, k) {
			k++
		}
		if !h.less(k, i) {
			break
		}
		h[i], h[k] = h[k], h[i]
		i = k
	}
	*q = h
	return top
}

// track is shortest without the length.
func (t *trellis) track(from, to int) []int {
	stops, _ := t.shortest(from, to)
	return stops
}

// trackAlong returns the shortest way that runs along at least half of the
// stops of one lane, from first[0] and before first[1].
func (t *trellis) trackAlong(from, to int, lane [2]int) []int {
	ahead, rest := t.waysFrom(from), t.waysFrom(to)
	least := (lane[1] - lane[0]) / 2
	best, in, out := math.Inf(1), -1, -1
	for i := lane[0]; i < lane[1]; i++ {
		for j := lane[0]; j < lane[1]; j++ {
			if max(i-j, j-i) < least {
				continue
			}
			if d := ahead.dist[i] + t.at[i].Dist(t.at[j]) + rest.dist[j]; d < best-1e-9 {
				best, in, out = d, i, j
			}
		}
	}
	if in < 0 {
		return nil
	}
	stops := ahead.to(in)
	for i := in; i != out; {
		if i < out {
			i++
		} else {
			i--
		}
		stops = append(stops, i)
	}
	tail := rest.to(out)
	slices.Reverse(tail)
	return append(stops, tail[1:]...)
}

// without returns the net with the stops of some lanes closed, but for those
// within reach of two places.
func (t *trellis) without(lanes map[int]bool, open [2]geom.Point, reach float64) *trellis {
	out := *t
	out.known = map[int]spread{}
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
