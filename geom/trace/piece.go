package trace

import (
	"math"
	"slices"

	"tubewright/geom"
)

const (
	tipLength  = 1.5  // half-widths up to which a short end may be the tip of a corner instead
	tipSplay   = 0.05 // radians between the walls of a tip that is a corner and not an end
	tipReach   = 2.5  // half-widths of wall looked at to tell the two
	pieceLeast = 0.6  // half-widths of centres that make a piece of wall worth following
	pieceTrim  = 1.0  // half-widths at either end of a piece left for the joining to use or not
	pieceTry   = 0.03 // misfit of a zone from which the pieces of its wall are tried
	pieceGain  = 0.01 // misfit by which they must do better

)

// Of a pen of one width every piece of wall without a dent tells the centres
// half a width inside it, whatever is hidden behind: the two sides of a loop
// whose counter has filled up, a stroke seen from one side above and from the
// other below, the way round a corner before it dives into a stem. Such a
// piece becomes a link of its own.

// evenPen reports whether the shape is drawn with one pen, so that a wall
// alone tells where its stroke is.
func (t *tracer) evenPen() bool { return !math.IsInf(t.widest, 1) }

// trial is what must be put back if a second way to solve a zone fails.
type trial struct {
	zone  zone
	links int
	spare int
	gone  []int
}

// solvePieces solves zone i again from the pieces of its walls and keeps that
// if it fits the walls better. solved says whether the zone has a solution.
func (t *tracer) solvePieces(i int, solved bool) bool {
	if z := &t.zones[i]; !t.evenPen() || len(z.runs) == 0 || solved && len(z.arms) == 1 && z.arms[0].done.end == EndBall {
		return false
	}
	old := t.zones[i]
	old.arms = slices.Clone(old.arms)
	evened(old.arms)
	tips := t.splayedTips(&old)
	score := math.Inf(1)
	if solved {
		score = misfit(t.zoneLines(&old, nil), &old, old.runs)
		if len(tips) > 0 {
			score += 2 * pieceGain
		} else if score < pieceTry {
			return false
		}
	}
	tr := trial{zone: t.zones[i], links: len(t.links), spare: len(t.spare)}
	z := &t.zones[i]
	z.arms = nil
	for k, a := range old.arms {
		if slices.Contains(tips, k) {
			t.links[a.link].gone = true
			tr.gone = append(tr.gone, a.link)
			continue
		}
		a.done = nil
		z.arms = append(z.arms, a)
	}
	ok := t.joinPieces(i)
	score -= pieceGain * float64(max(1, len(z.arms)-len(old.arms)))
	extra := t.pieceLines(tr.links)
	if ok && t.sound(z, extra) && misfit(t.zoneLines(z, extra), &old, old.runs) < score {
		return true
	}
	t.undo(i, &tr)
	return false
}

// evened gives all arms the half-width that is typical of them.
func evened(arms []arm) {
	var rs []float64
	for i := range arms {
		rs = append(rs, arms[i].r)
	}
	for i := range arms {
		arms[i].r = quantile(rs, 0.4)
	}
}

func (t *tracer) undo(i int, tr *trial) {
	t.zones[i] = tr.zone
	t.links, t.spare = t.links[:tr.links], t.spare[:tr.spare]
	for _, l := range tr.gone {
		t.links[l].gone = false
	}
}

// joinPieces makes links of the pieces and joins the arms of the zone.
func (t *tracer) joinPieces(i int) bool {
	z := &t.zones[i]
	if len(z.arms) == 0 {
		return false
	}
	runs, ok := t.boundaries(z)
	if !ok {
		return false
	}
	t.addPieces(i, runs)
	if len(z.arms) < 2 {
		return false
	}
	for j := range z.arms {
		t.setUp(&z.arms[j])
	}
	if runs, ok = t.boundaries(z); !ok {
		return false
	}
	z.runs = runs
	for j := range z.arms {
		t.extend(&z.arms[j], runs, 8*z.size)
	}
	if len(z.arms) == 2 {
		t.joinPair(&z.arms[0], &z.arms[1], runs)
	} else {
		t.joinMany(z, runs)
	}
	return true
}

// splayedTips lists the arms that are the tip of a corner: very short, with
// walls that part from the tip on.
func (t *tracer) splayedTips(z *zone) []int {
	var out []int
	if len(z.arms) < 3 {
		return nil
	}
	for i := range z.arms {
		a := &z.arms[i]
		l := &t.links[a.link]
		length := pathLength(l.s)
		if length > tipLength*a.r || l.gone {
			continue
		}
		if far := l.zone[1-a.end]; !a.stub && (far < 0 || len(t.zones[far].arms) != 1) {
			continue
		}
		constant := func(float64) float64 { return a.r }
		right := offsets(z.runs[a.runRight].pts, constant)
		left := offsets(reversedWalls(z.runs[a.runLeft].pts), constant)
		s := min(wayOf(a.p, right), wayOf(a.p, left), tipReach*a.r)
		if s < a.r {
			continue
		}
		if pointAtWay(a.p, right, s).Dist(pointAtWay(a.p, left, s)) > tipSplay*(s+length) {
			out = append(out, i)
		}
	}
	return out
}

// pointAtWay returns the point the way s along the points from p.
func pointAtWay(p geom.Point, pts []geom.Point, s float64) geom.Point {
	for _, q := range pts {
		d := p.Dist(q)
		if d >= s && d > 0 {
			return p.Lerp(q, s/d)
		}
		s -= d
		p = q
	}
	return p
}

// zoneLines returns the lines that a solved zone draws, and more.
func (t *tracer) zoneLines(z *zone, more [][]geom.Point) [][]geom.Point {
	out := more
	for i := range z.arms {
		if a := &z.arms[i]; a.done != nil && !t.links[a.link].gone {
			out = append(out, lineOf(a, a.done))
		}
	}
	return out
}

// pieceLines returns the centres of the links from number n on, with what
// joins them to their corners.
func (t *tracer) pieceLines(n int) [][]geom.Point {
	var out [][]geom.Point
	for _, l := range t.links[n:] {
		var line []geom.Point
		for _, s := range l.s {
			line = append(line, s.At)
		}
		out = append(out, line)
		for _, j := range l.join {
			if j == nil || j.to == nil {
				continue
			}
			far := append([]geom.Point{line[0]}, j.fill...)
			out = append(out, append(far, t.sampleFromEnd(j.to.link, j.to.end, 0).At))
		}
	}
	return out
}
