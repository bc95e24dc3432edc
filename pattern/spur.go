package pattern

import (
	"math"

	"tubewright/geom"
)

// A bowl that runs tangentially into a stem can be read in two ways: the stem
// goes on into the bowl and leaves a spur (the top of an n), or the stem goes
// straight through and the bowl ends on it. In glass the second is better: a
// short spur cannot turn back at both its ends beside the bowl.
const (
	spurMost  = 6.0 // in D: longer spurs are strokes of their own
	spurAlign = 40 * math.Pi / 180
	spurReach = 0.6 // in D: how near the spur's end must be drawn to the other stroke
)

// straightenStems gives spurs back to their stems: where a short stroke ends
// on another and carries on one of its two sides, that side and the spur become
// one stroke and the other side ends there.
//
// A bowl that runs along its stem (b, p) leaves a spur at either end of the
// stretch they share: there the spurs become one stem and the bowl is opened.
func (m *maker) straightenStems(strokes []drawn) []drawn {
	for range len(strokes) { // each bridge opens one bowl; there are no more bowls than strokes
		var found bool
		if strokes, found = m.bridgeSpurs(strokes); !found {
			break
		}
	}
	for i := 0; i < len(strokes); i++ {
		spur := strokes[i]
		if spur.dot || spur.path.Closed || spur.path.Length() > spurMost*m.spec.Rules.Diameter {
			continue
		}
		for j := range strokes {
			if j == i || strokes[j].dot || strokes[j].path.Closed {
				continue
			}
			if stem, branch, ok := m.swapTails(strokes[j].path, spur.path); ok {
				strokes[j].path, strokes[i].path = stem, branch
				break
			}
		}
	}
	return strokes
}

// swapTails returns the stroke made of one side of a and the spur, and the
// other side of a, if the spur starts or ends on the inside of a and carries
// one side straighter on than that side does itself.
func (m *maker) swapTails(a, spur geom.Path) (stem, branch geom.Path, ok bool) {
	d := m.spec.Rules.Diameter
	for _, s := range [2]geom.Path{spur, spur.Reversed()} {
		at, dist := a.Nearest(s.Start())
		n := a.Length()
		if dist > spurReach*d || min(at, n-at) < spur.Length()+d {
			continue
		}
		away := s.DirAt(min(d, s.Length()/2))
		back, on := a.DirAt(max(0, at-2*d)), a.DirAt(min(n, at+2*d)).Neg()
		turnBack, turnOn := back.TurnTo(away).Abs(), on.TurnTo(away).Abs()
		switch {
		case turnBack <= turnOn && turnBack < spurAlign:
			return joinedAt(a.Cut(0, at), s), a.Cut(at, n), true
		case turnOn < turnBack && turnOn < spurAlign:
			return joinedAt(a.Cut(at, n).Reversed(), s), a.Cut(0, at), true
		}
	}
	return stem, branch, false
}

// joinedAt carries a on to where the spur starts and then along it.
func joinedAt(a, spur geom.Path) geom.Path {
	out := append([]geom.Segment(nil), a.Segments...)
	if gap := a.End().Dist(spur.Start()); gap > 1e-9 {
		out = append(out, geom.Line{A: a.End(), B: spur.Start()})
	}
	return geom.Path{Segments: append(out, spur.Segments...)}
}

// bridgeSpurs joins two strokes that end on a third, in line with each other,
// where the third runs between their ends as straight as makes no difference.
// It reports whether it found two such.
func (m *maker) bridgeSpurs(strokes []drawn) ([]drawn, bool) {
	for i := 0; i < len(strokes); i++ {
		for j := i + 1; j < len(strokes); j++ {
			for k := range strokes {
				if k == i || k == j || !m.spurs(strokes[i], strokes[j], strokes[k]) {
					continue
				}
				if stem, rest, ok := m.bridged(strokes[i].path, strokes[j].path, strokes[k].path); ok {
					letter := strokes[k].letter
					strokes[i].path = stem
					strokes[k].path = rest[0]
					strokes = append(strokes[:j], strokes[j+1:]...)
					for _, r := range rest[1:] {
						strokes = append(strokes, drawn{letter: letter, path: r})
					}
					return strokes, true
				}
			}
		}
	}
	return strokes, false
}

// spurs is a quick test whether two strokes could be bridged over a third.
func (m *maker) spurs(a, b, over drawn) bool {
	if a.dot || b.dot || over.dot || a.path.Closed || b.path.Closed || a.letter != over.letter || b.letter != over.letter {
		return false
	}
	box := over.path.Bounds().Grown(m.spec.Rules.Diameter)
	return a.path.Bounds().Overlaps(box) && b.path.Bounds().Overlaps(box)
}

// bridged returns the stroke through both, and what is left of the third.
func (m *maker) bridged(a, b, over geom.Path) (stem geom.Path, rest []geom.Path, ok bool) {
	d := m.spec.Rules.Diameter
	for _, p := range [2]geom.Path{a, a.Reversed()} {
		for _, q := range [2]geom.Path{b, b.Reversed()} {
			gap := q.Start().Sub(p.End())
			if gap.Norm() > spurMost*d || gap.Norm() < 1e-6 || p.EndDir().TurnTo(gap).Abs() > spurAlign/2 || q.StartDir().TurnTo(gap).Abs() > spurAlign/2 {
				continue
			}
			from, off := over.Nearest(p.End())
			to, off2 := over.Nearest(q.Start())
			if max(off, off2) > spurReach*d {
				continue
			}
			rest, ok := m.without(over, from, to, geom.Line{A: p.End(), B: q.Start()})
			if ok {
				return joinedAt(p, q), rest, true
			}
		}
	}
	return stem, nil, false
}

// without returns what is left of a stroke without its stretch between two
// places, if that stretch runs along the bridge.
func (m *maker) without(over geom.Path, from, to float64, bridge geom.Line) ([]geom.Path, bool) {
	n := over.Length()
	lo, hi := min(from, to), max(from, to)
	along := func(p geom.Path) bool {
		return p.Length() < 1.3*bridge.Length()+m.spec.Rules.Diameter && strayFrom(p, bridge) < spurReach*m.spec.Rules.Diameter
	}
	open := geom.Path{Segments: over.Segments}
	if along(open.Cut(lo, hi)) {
		if over.Closed {
			return []geom.Path{{Segments: append(open.Cut(hi, n).Segments, open.Cut(0, lo).Segments...)}}, true
		}
		if lo < m.spec.Rules.Diameter || n-hi < m.spec.Rules.Diameter {
			return nil, false
		}
		return []geom.Path{open.Cut(0, lo), open.Cut(hi, n)}, true
	}
	if !over.Closed {
		return nil, false
	}
	around := geom.Path{Segments: append(open.Cut(hi, n).Segments, open.Cut(0, lo).Segments...)}
	if along(around) {
		return []geom.Path{open.Cut(lo, hi)}, true
	}
	return nil, false
}

// strayFrom returns the largest distance of a path from a straight.
func strayFrom(p geom.Path, line geom.Line) float64 {
	var most float64
	for _, q := range p.Samples(max(p.Length()/32, 1e-6)) {
		most = max(most, line.PointAt(line.Nearest(q)).Dist(q))
	}
	return most
}
