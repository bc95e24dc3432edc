package route

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tubewright/geom"
	"tubewright/geom/network"
	"tubewright/pattern/finding"
	"tubewright/pattern/tube"
)

// crossing is a place where two lanes, or one lane with itself, pass through
// each other in plan.
type crossing struct {
	a, b   int // lanes
	sa, sb float64
}

// resolveCrossings makes one strand dip at each crossing, or ends a strand
// there where neither has room.
func (p *planner) resolveCrossings() {
	for _, c := range p.overUnder(p.dropStubs(p.findCrossings())) {
		c.sa += p.lanes[c.a].shift
		c.sb += p.lanes[c.b].shift
		if p.dip(c) || p.extend(c) || p.cut(c) {
			continue
		}
		l := p.lanes[c.a]
		p.add(finding.Finding{
			Code: "crossing-no-room", Severity: finding.Error, Stroke: l.ID, At: l.Path.PointAt(c.sa).At(0),
			Got: max(p.room(c.a, c.sa), p.room(c.b, c.sb)), Want: p.tightest().Half() + p.rules.MinRadius,
			What:   "two strands cross too near an end for either to dip",
			Remedy: "make the letters higher or use a thinner tube",
		}, l)
	}
}

// findCrossings returns where strands pass through each other, by the closed
// form; where one only touches or runs along another is no crossing.
func (p *planner) findCrossings() []crossing {
	paths := make([]geom.Path, len(p.lanes))
	for i, l := range p.lanes {
		paths[i] = l.Path
	}
	var out []crossing
	for _, m := range network.AllCrossings(paths) {
		if m.Kind == network.Cross && !(m.First == m.Second && m.B-m.A < p.window()) {
			out = append(out, crossing{m.First, m.Second, m.A, m.B})
		}
	}
	slices.SortFunc(out, func(x, y crossing) int {
		return cmp.Or(cmp.Compare(x.a, y.a), cmp.Compare(x.sa, y.sa), cmp.Compare(x.b, y.b), cmp.Compare(x.sb, y.sb))
	})
	return slices.CompactFunc(out, func(x, y crossing) bool {
		return x.a == y.a && x.b == y.b && math.Abs(x.sa-y.sa) < 2 && math.Abs(x.sb-y.sb) < 2
	})
}

// dropStubs takes out crossings so near a stroke's end that the end is in
// truth a T: the strand ends at the other, and the short stub beyond is left.
func (p *planner) dropStubs(found []crossing) []crossing {
	stub := 1.0 * p.rules.Diameter
	var out []crossing
	for _, c := range found {
		if p.stubAt(c.a, c.sa, stub) || p.stubAt(c.b, c.sb, stub) {
			continue
		}
		out = append(out, c)
	}
	return out
}

// stubAt trims the lane's end back to s if the end is within stub of it.
func (p *planner) stubAt(i int, s, stub float64) bool {
	l := p.lanes[i]
	sp := &l.spans[0]
	switch {
	case s <= stub:
		sp.lo, sp.trimmed[0] = max(sp.lo, s), max(sp.trimmed[0], s)
	case l.length-s <= stub:
		sp.hi, sp.trimmed[1] = min(sp.hi, s), max(sp.trimmed[1], l.length-s)
	default:
		return false
	}
	return true
}

// room returns how much of the lane there is on the shorter side of s, up to
// the end of its glass or the nearest dip.
func (p *planner) room(i int, s float64) float64 {
	l := p.lanes[i]
	sp := spanAt(l.spans, s)
	r := min(s-sp.lo, sp.hi-s)
	for _, d := range l.dips {
		r = min(r, math.Abs(s-d.At)-d.Half())
	}
	return r
}

func spanAt(spans []span, s float64) *span {
	for i := range spans {
		if s >= spans[i].lo && s <= spans[i].hi {
			return &spans[i]
		}
	}
	return &spans[len(spans)-1]
}

type dipShape struct{ run, flat float64 }

// dipShapes lists ramps and flats in multiples of D, the most comfortable
// first: 3 D and 1 D are usual, shorter ones serve where room is short, longer
// ones where the strands cross at a shallow angle.
var dipShapes = [...]dipShape{
	{3, 1}, {2.5, 1}, {2.5, 0.5}, {2.25, 0.5}, {2, 0.65}, {1.85, 0.85}, {1.75, 0.96},
	{3, 1.45}, {3.5, 1.45}, {4, 1.45}, {5, 1.45}, {6, 1.45}, {7, 1.45},
}

// shortShapes are those no longer than usual.
var shortShapes = dipShapes[:7]

// tightest returns the shortest dip there is.
func (p *planner) tightest() tube.Dip {
	d := p.rules.Diameter
	return tube.Dip{Depth: p.rules.DipDepth, Run: 1.75 * d, Flat: 0.96 * d}
}

// dip makes one of the two strands dip, the one that can do it in the more
// comfortable shape; of equals, the one with more room.
func (p *planner) dip(c crossing) bool {
	options := p.dipsFor(c)
	if len(options) == 0 {
		return false
	}
	p.addDip(options[0].lane, options[0].Dip)
	return true
}

// laneDip is a dip that a lane could take.
type laneDip struct {
	tube.Dip
	lane, rank int
}

// dipsFor returns the dips there is room for at a crossing, the best first: of
// either strand the most comfortable, and the shortest.
func (p *planner) dipsFor(c crossing) []laneDip {
	da, ra := p.fitDip(c.a, c.sa, c.b, c.sb)
	db, rb := p.fitDip(c.b, c.sb, c.a, c.sa)
	var out []laneDip
	if ra >= 0 {
		out = append(out, laneDip{da, c.a, ra})
	}
	if b := (laneDip{db, c.b, rb}); rb >= 0 {
		if ra < 0 || ra < rb || ra == rb && p.room(c.a, c.sa) >= p.room(c.b, c.sb) {
			out = append(out, b)
		} else {
			out = slices.Insert(out, 0, b)
		}
	}
	for _, d := range slices.Clone(out) {
		o := crossing{c.a, c.b, c.sa, c.sb}
		if d.lane != c.a || c.a == c.b && d.At != c.sa {
			o = crossing{c.b, c.a, c.sb, c.sa}
		}
		for rank := len(shortShapes) - 1; rank > d.rank; rank-- {
			if short, ok := p.shaped(o, shortShapes[rank]); ok {
				out = append(out, laneDip{short, d.lane, rank})
				break
			}
		}
	}
	return out
}

// addDip puts a dip on a lane; where room is short the turns at the ends of
// its span become tighter.
func (p *planner) addDip(i int, d tube.Dip) {
	l := p.lanes[i]
	sp := spanAt(l.spans, d.At)
	sp.radius[0] = min(sp.radius[0], d.At-d.Half()-sp.lo)
	sp.radius[1] = min(sp.radius[1], sp.hi-d.At-d.Half())
	l.dips = append(l.dips, d)
	slices.SortFunc(l.dips, func(x, y tube.Dip) int { return cmp.Compare(x.At, y.At) })
}

// fitDip returns the most comfortable dip of lane i at s that clears lane j at
// t and its rank in dipShapes, or rank -1.
func (p *planner) fitDip(i int, s float64, j int, t float64) (tube.Dip, int) {
	for rank, shape := range dipShapes {
		if d, ok := p.shaped(crossing{i, j, s, t}, shape); ok {
			return d, rank
		}
	}
	return tube.Dip{}, -1
}

// shaped returns the dip of a shape that strand a of a crossing would make, if
// there is room for it, it can be bent, and it clears the other strand.
func (p *planner) shaped(c crossing, shape dipShape) (tube.Dip, bool) {
	room := p.room(c.a, c.sa)
	d := tube.Dip{At: c.sa, Depth: p.rules.DipDepth, Run: shape.run * p.rules.Diameter, Flat: shape.flat * p.rules.Diameter}
	if d.Half()+p.rules.DoubleBackRadius > room && d.Half()+p.rules.MinRadius > room {
		return d, false
	}
	return d, p.dipBends(c.a, d) && p.dipClears(c.a, d, c.b, c.sb)
}

// dipBends reports whether the ramps, bent in plan and in depth at once, stay
// over the least radius.
func (p *planner) dipBends(i int, d tube.Dip) bool {
	return p.bends(p.lanes[i].Path.Cut(d.At-d.Half(), d.At+d.Half()), d)
}

func (p *planner) bends(path geom.Path, d tube.Dip) bool {
	k := 1 / d.ProfileRadius()
	for _, g := range path.Segments {
		c := g.Curvature()
		if c != 0 && math.Sqrt(float64(k*k)+float64(c*c)) > 1/(p.rules.MinRadius*1.02) || k > 1/p.rules.MinRadius+1e-9 {
			return false
		}
	}
	return true
}

// dipClears reports whether lane i with the dip keeps clear of lane j near t.
func (p *planner) dipClears(i int, d tube.Dip, j int, t float64) bool {
	a, b := p.lanes[i], p.lanes[j]
	need := p.rules.Need()
	reach := d.Half() + need
	for s := d.At - d.Half(); s <= d.At+d.Half(); s += tube.SampleStep {
		z, _ := d.Height(s - d.At)
		q := a.Path.PointAt(s).At(z)
		for u := max(0, t-reach); u <= min(b.length, t+reach); u += tube.SampleStep {
			if i == j && math.Abs(u-s) < p.window() {
				continue
			}
			if q.Dist(b.Path.PointAt(u).At(b.z(u))) < need-0.02 {
				return false
			}
		}
	}
	return true
}

// extend lengthens the shorter side of a strand by at most 1 D so that it has
// room to dip, and says so.
func (p *planner) extend(c crossing) bool {
	want := p.tightest().Half() + p.rules.MinRadius + 0.1
	for _, end := range []struct {
		lane int
		s    float64
	}{{c.a, c.sa}, {c.b, c.sb}} {
		l := p.lanes[end.lane]
		sp := &l.spans[0]
		if len(l.spans) > 1 || sp.trimmed != [2]float64{} || len(l.dips) > 0 {
			continue
		}
		before, after := max(0, want-end.s), max(0, want-(l.length-end.s))
		if before > p.rules.Diameter || after > p.rules.Diameter {
			continue
		}
		saved := l.Path
		l.setPath(extended(saved, before, after))
		sp.hi = l.length
		moved := c
		if end.lane == c.a {
			moved.sa += before
		}
		if end.lane == c.b {
			moved.sb += before
		}
		if p.dip(moved) {
			l.shift += before
			p.add(finding.Finding{
				Code: "lengthened", Severity: finding.Note, Stroke: l.ID, At: l.Path.PointAt(moved.sa).At(0),
				What: fmt.Sprintf("the stroke is %.1f mm longer than drawn, so that it can dip at the crossing", before+after),
			}, l)
			return true
		}
		l.setPath(saved)
		sp.hi = l.length
	}
	return false
}

// extended returns the path carried straight on at both ends.
func extended(p geom.Path, before, after float64) geom.Path {
	var out geom.Path
	if before > 0 {
		out.Segments = append(out.Segments, geom.Line{A: p.Start().Add(p.StartDir().Mul(-before)), B: p.Start()})
	}
	out.Segments = append(out.Segments, p.Segments...)
	if after > 0 {
		out.Segments = append(out.Segments, geom.Line{A: p.End(), B: p.End().Add(p.EndDir().Mul(after))})
	}
	return out
}

// cut ends one strand on both sides of the crossing, if both parts are long
// enough to turn back at both their ends.
func (p *planner) cut(c crossing) bool {
	need := p.rules.Need() + 2*p.rules.DoubleBackRadius
	for _, at := range []struct {
		lane int
		s    float64
	}{{c.b, c.sb}, {c.a, c.sa}} {
		if p.room(at.lane, at.s) >= need {
			p.splitSpan(at.lane, at.s)
			return true
		}
	}
	return false
}

// splitSpan ends the glass of a lane on both sides of s; trimming moves the
// two new ends apart.
func (p *planner) splitSpan(i int, s float64) {
	l := p.lanes[i]
	for k, sp := range l.spans {
		if s > sp.lo && s < sp.hi {
			left, right := sp, sp
			left.hi, right.lo = s, s
			left.trimmed[1], right.trimmed[0] = 0, 0
			l.spans = slices.Replace(l.spans, k, k+1, left, right)
			return
		}
	}
}

// add files a finding, with what is known of the lane it is about.
func (p *planner) add(f finding.Finding, l *lane) {
	if l != nil {
		f.Letter, f.Index = l.Text, l.Letter
	}
	p.findings = append(p.findings, f)
}
