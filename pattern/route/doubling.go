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

// A stroke counts as doubled where hidden glass lies right behind it for more
// than doubledFrom D at a stretch, turns at its ends not being told from it;
// a doubling that was demanded must cover at least doubledPart of the stroke.
const (
	doubledFrom = 2.2
	doubledPart = 1.0 / 3
)

// doublings returns the ways to link two steps of one letter of which
// something is asked: a jump, the shortest way behind strokes that may be
// doubled, and the shortest along each stroke that must be.
func (p *planner) doublings(runs []run, a, b step, w Wish) []choice {
	lanes := p.lanesOf(w.Letter)
	from, to := runs[a.run].place[1-a.from], runs[b.run].place[b.from]
	closed := map[int]bool{}
	for _, k := range w.NoDouble {
		if k <= len(lanes) {
			closed[lanes[k-1]] = true
		}
	}
	jump := choice{cost: p.jumpCost(runs, a, b), length: p.linkLength(runs, a, b), fixed: true}
	out := []choice{jump}
	t := p.trellisFor(w.Letter).without(closed, [2]geom.Point{from, to}, 1.2*p.rules.Diameter)
	start, end := t.stopOf(runs[a.run].lane, from), t.stopOf(runs[b.run].lane, to)
	tracks := [][]int{t.track(start, end)}
	for _, k := range w.Double {
		if k <= len(lanes) {
			tracks = append(tracks, t.trackAlong(start, end, t.first[lanes[k-1]]))
		}
	}
	for _, stops := range tracks {
		if len(stops) == 0 {
			continue
		}
		via, length := t.corners(from, stops, to, 0.3*p.rules.Diameter)
		out = append(out, choice{
			cost: p.wayCost(length, len(via)), length: length + (math.Pi-2)*p.rules.DoubleBackRadius,
			fixed: true, via: via,
		})
	}
	for _, k := range w.Double {
		if k <= len(lanes) {
			out = append(out, p.halfWays(t, lanes[k-1], runs, [2]step{a, b})...)
		}
	}
	kept := out[:0]
	for _, c := range out {
		behind := p.doubledBy(append(append([]geom.Point{from}, c.via...), to), lanes)
		if !slices.ContainsFunc(w.NoDouble, func(k int) bool { return k <= len(lanes) && behind[k-1].doubled }) {
			for i, k := range w.Double {
				if k <= len(lanes) && behind[k-1].share >= doubledPart {
					c.met |= 1 << i
				}
			}
			kept = append(kept, c)
		}
	}
	slices.SortStableFunc(kept, func(x, y choice) int { return cmp.Compare(x.cost, y.cost) })
	return kept
}

// halfWays returns the ways that double back behind the half of a stroke from
// whose end the link starts, or at whose end it arrives, and jump the rest.
func (p *planner) halfWays(t *trellis, lane int, runs []run, ab [2]step) []choice {
	places := [2]geom.Point{runs[ab[0].run].place[1-ab[0].from], runs[ab[1].run].place[ab[1].from]}
	stops := t.first[lane]
	var out []choice
	for side, s := range ab {
		if runs[s.run].lane != lane {
			continue
		}
		from, to := places[side], places[1-side]
		first := t.stopOf(lane, from)
		for _, half := range [2]int{first - (stops[1]-stops[0])/2, first + (stops[1]-stops[0])/2} {
			if half < stops[0] || half >= stops[1] {
				continue
			}
			var track []int
			for i := first; i != half; i += cmp.Compare(half, first) {
				track = append(track, i)
			}
			mid := t.at[half]
			via, along := t.corners(from, track, mid, 0.3*p.rules.Diameter)
			via = append(via, mid)
			if side == 1 {
				via = reversedPoints(via)
			}
			jump := mid.Dist(to)
			out = append(out, choice{
				cost:   p.wayCost(along+jump, len(via)) + p.costs.Paint*jump,
				length: along + jump + (math.Pi-2)*p.rules.DoubleBackRadius, fixed: true, via: via,
			})
		}
	}
	return out
}

// cover says how much of a stroke hidden glass lies behind.
type cover struct {
	doubled bool    // for a stretch long enough to count
	share   float64 // longest stretch as a share of the stroke
}

// doubledBy returns, for each of the lanes, how a plan way lies behind it.
func (p *planner) doubledBy(way []geom.Point, lanes []int) []cover {
	out := make([]cover, len(lanes))
	step := p.rules.Diameter / 4
	for k, i := range lanes {
		l := p.lanes[i]
		stretch, longest := 0.0, 0.0
		for n := 1; n < len(way); n++ {
			g := geom.Line{A: way[n-1], B: way[n]}
			parts := max(1, int(math.Ceil(g.Length()/step)))
			for m := range parts {
				h := g.Length() / float64(parts)
				if _, d := l.Path.Nearest(g.PointAt(h * (float64(m) + 0.5))); d < p.rules.Diameter/2 {
					stretch += h
					longest = max(longest, stretch)
				} else {
					stretch = 0
				}
			}
		}
		out[k] = cover{longest > doubledFrom*p.rules.Diameter, longest / l.length}
	}
	return out
}

// hiddenWays returns the plan of each stretch of hidden glass.
func hiddenWays(tubes []tube.Tube) [][]geom.Point {
	var out [][]geom.Point
	for _, t := range tubes {
		var way []geom.Point
		for _, piece := range t {
			if piece.Role != tube.Hidden {
				if len(way) > 0 {
					out = append(out, way)
				}
				way = nil
				continue
			}
			n := max(1, int(math.Ceil(piece.Seg.Length()/3)))
			for k := range n + 1 {
				way = append(way, piece.Seg.PointAt(piece.Seg.Length()*float64(k)/float64(n)).Plan())
			}
		}
		if len(way) > 0 {
			out = append(out, way)
		}
	}
	return out
}

// checkDoublings looks at the finished glass for what was asked of doublings.
func (p *planner) checkDoublings(tubes []tube.Tube) {
	ways := hiddenWays(tubes)
	for _, w := range p.options.Wishes {
		lanes := p.lanesOf(w.Letter)
		if len(w.Double)+len(w.NoDouble) == 0 || len(lanes) == 0 {
			continue
		}
		covers := make([]cover, len(lanes))
		for _, way := range ways {
			for k, c := range p.doubledBy(way, lanes) {
				covers[k].doubled = covers[k].doubled || c.doubled
				covers[k].share = max(covers[k].share, c.share)
			}
		}
		for _, k := range w.Double {
			if k <= len(lanes) && covers[k-1].share < doubledPart {
				p.denied(lanes[k-1], fmt.Sprintf("stroke %d was to be doubled by a hidden run, and no run that is clear of other glass and within the longest unit does it", k),
					"double another stroke, allow longer units, or make the letter higher")
			}
		}
		for _, k := range w.NoDouble {
			if k <= len(lanes) && covers[k-1].doubled {
				p.denied(lanes[k-1], fmt.Sprintf("no hidden run was to lie behind stroke %d, and one does", k),
					"let the letter break into two units, or allow the doubling")
			}
		}
	}
}

// denied files a wish about a stroke that could not be granted.
func (p *planner) denied(lane int, what, remedy string) {
	l := p.lanes[lane]
	p.add(finding.Finding{
		Code: wishDenied, Severity: finding.Error, Stroke: l.ID, At: l.Path.PointAt(l.length / 2).At(0), What: what, Remedy: remedy,
	}, l)
}
