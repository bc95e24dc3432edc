package trace

import (
	"slices"

	"tubewright/geom"
)

// piece is a stretch of wall without dents and the centres it tells.
type piece struct {
	walls       []wallPoint
	centres     []geom.Point
	wallOf      []int // of each centre
	corner      int   // index in centres of the sharpest corner, or -1
	first, last bool  // begins at the run's first, ends at its last arm
}

// addPieces adds links for the pieces of the runs. Arms whose wall leads round
// a corner are solved up to there.
func (t *tracer) addPieces(i int, runs []boundary) {
	z := &t.zones[i]
	arms := slices.Clone(z.arms)
	solved := make([]bool, len(arms))
	var added []arm
	for k := range runs {
		r := &runs[k]
		for _, w := range undented(r.pts) {
			p, ok := newPiece(w, r, arms[r.from].r)
			if !ok || p.first && p.last {
				continue
			}
			switch {
			case !p.first && !p.last:
				added = append(added, t.freePiece(i, p, arms[r.from].right.Loop, arms[r.from].r)...)
			case p.corner >= 0:
				from := r.from
				if p.last {
					from = r.to
				}
				if solved[from] || t.links[arms[from].link].gone {
					continue
				}
				if b, ok := t.roundCorner(i, &arms[from], p); ok {
					solved[from] = true
					added = append(added, b)
				}
			}
		}
	}
	z.arms = nil
	for k := range arms {
		if !solved[k] {
			z.arms = append(z.arms, arms[k])
		}
	}
	z.arms = append(z.arms, added...)
}

// newPiece works out the centres of a piece of wall of run r.
func newPiece(w []wallPoint, r *boundary, half float64) (piece, bool) {
	p := piece{walls: w, corner: -1}
	p.first = w[0].along == r.pts[0].along
	p.last = w[len(w)-1].along == r.pts[len(r.pts)-1].along
	for k, x := range w {
		if x.turn > sharpTurn {
			return p, false
		}
		c := x.at.Add(x.n.Mul(half))
		p.centres, p.wallOf = append(p.centres, c), append(p.wallOf, k)
	}
	corner, merged := pivot(p.centres, w, half)
	if corner >= 0 {
		n := len(p.centres) - len(merged) // points merged into one
		p.wallOf = slices.Delete(p.wallOf, corner, corner+n)
		p.centres, p.corner = merged, corner
	}
	return p, true
}

// reversed turns a piece round.
func (p piece) reversed() piece {
	p.centres, p.wallOf = slices.Clone(p.centres), slices.Clone(p.wallOf)
	slices.Reverse(p.centres)
	slices.Reverse(p.wallOf)
	if p.corner >= 0 {
		p.corner = len(p.centres) - 1 - p.corner
	}
	return p
}

// roundCorner takes an arm round the corner its wall leads round, and returns
// the arm that goes on from there.
func (t *tracer) roundCorner(zi int, a *arm, p piece) (arm, bool) {
	loop := a.right.Loop
	forward := p.first
	if !forward {
		p = p.reversed()
		loop = a.left.Loop
	}
	centres := p.centres[p.corner+1:]
	to := keptOf(centres, a.r)
	if to < 1 || wayOf(p.centres[p.corner], centres[:to]) < 0.3*a.r {
		return arm{}, false
	}
	fill := p.centres[:p.corner+1]
	from := 0
	for from < p.corner && fill[from].Sub(a.p).Dot(a.d) <= 0 && fill[from].Dist(a.p) < 2*a.r {
		from++
	}
	end := t.contactAt(loop, p.walls[p.wallOf[p.corner+to]])
	n := t.pieceLink(zi, centres[:to], a.r)
	b := arm{link: n, end: 1, left: a.left, right: end}
	if !forward {
		b.left, b.right = end, a.right
	}
	t.setContacts(n, b)
	j := connect(a, &arm{link: n, end: 0}, slices.Clone(fill[from:]), p.corner-from)
	done := *a
	done.done = j
	j.twin.to = &done
	t.links[n].join[0] = j.twin
	t.spare = append(t.spare, &done)
	return b, true
}

// keptOf returns how many of the centres make the link: the last of them are
// left for the joining.
func keptOf(c []geom.Point, half float64) int {
	if len(c) == 0 {
		return 0
	}
	total := wayOf(c[0], c)
	trim := min(pieceTrim*half, total/4)
	n := len(c)
	for n > 1 && wayOf(c[n-1], c[n-1:])+c[n-1].Dist(c[len(c)-1]) < trim {
		n--
	}
	return n
}

// pieceLink adds a link along the centres and returns its number.
func (t *tracer) pieceLink(zi int, centres []geom.Point, half float64) int {
	l := link{zone: [2]int{-2, zi}}
	for _, c := range centres {
		l.s = append(l.s, sampleAt(c, half))
	}
	t.links = append(t.links, l)
	return len(t.links) - 1
}

// setContacts gives every sample of link n the contacts of its arm b.
func (t *tracer) setContacts(n int, b arm) {
	for k := range t.links[n].s {
		s := &t.links[n].s[k]
		s.Left, s.Right = b.left, b.right
		if b.end == 0 {
			s.Left, s.Right = b.right, b.left
		}
	}
}

// freePiece makes links of a piece between two dents: one, or two that meet in
// a corner. It returns their arms in the zone.
func (t *tracer) freePiece(zi int, p piece, loop int, half float64) []arm {
	if len(p.centres) < 3 || wayOf(p.centres[0], p.centres) < pieceLeast*half || p.isEnd(half) {
		return nil
	}
	back := p.reversed()
	to, from := keptOf(p.centres, half), len(p.centres)-keptOf(back.centres, half)
	if to-from < 2 {
		return nil
	}
	start, end := t.contactAt(loop, p.walls[p.wallOf[from]]), t.contactAt(loop, p.walls[p.wallOf[to-1]])
	middle := t.contactAt(loop, p.walls[p.wallOf[(from+to)/2]])
	b, f := arm{end: 0, left: start, right: middle}, arm{end: 1, left: middle, right: end}
	c := p.corner
	if c <= from || c >= to-1 {
		n := t.pieceLink(zi, p.centres[from:to], half)
		t.links[n].zone[0] = zi
		b.link, f.link = n, n
		s := t.links[n].s
		for k := range s {
			s[k].Left, s[k].Right = middle, middle
		}
		s[0].Left, s[0].Right = b.right, b.left
		s[len(s)-1].Left, s[len(s)-1].Right = f.left, f.right
		return []arm{b, f}
	}
	middle = t.contactAt(loop, p.walls[p.wallOf[c]])
	b.right, f.left = middle, middle
	b.link, f.link = t.pieceLink(zi, p.centres[from:c], half), t.pieceLink(zi, p.centres[c+1:to], half)
	t.links[b.link].zone = [2]int{zi, -2}
	b.group, f.group = b.link+1, b.link+1
	t.setContacts(b.link, b)
	t.setContacts(f.link, f)
	j := connect(&arm{link: b.link, end: 1}, &arm{link: f.link, end: 0}, []geom.Point{p.centres[c]}, 0)
	t.links[b.link].join[1], t.links[f.link].join[0] = j, j.twin
	return []arm{b, f}
}

// isEnd reports whether the piece goes round the end of a stroke: what comes
// before its corner is what comes after.
func (p piece) isEnd(half float64) bool {
	return p.corner >= 0 && sameWay(p.centres[:p.corner], p.centres[p.corner], p.centres[p.corner+1:], half)
}

// sameWay reports whether the centres before a turning point and those after
// it are the two views of one stroke. If only one side shows it says so too.
func sameWay(before []geom.Point, c geom.Point, after []geom.Point, half float64) bool {
	before = slices.Clone(before)
	slices.Reverse(before)
	s := min(wayOf(c, before), wayOf(c, after), tipReach*half)
	return s < 0.2*half || pointAtWay(c, before, s).Dist(pointAtWay(c, after, s)) <= tipSplay*s
}
