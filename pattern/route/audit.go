package route

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/tube"
)

// audit looks at the finished tubes with no knowledge of what was meant, and
// files what breaks a rule: bends too tight, glass too near glass, units too
// long, strokes left dark.
func (p *planner) audit(tubes []tube.Tube, strokes []Stroke) {
	byID := map[string]*lane{}
	for _, l := range p.lanes {
		byID[l.ID] = l
	}
	for i, t := range tubes {
		p.auditUnit(UnitID(i), t, byID)
	}
	p.auditClearance(tubes, byID)
	p.auditLight(tubes, strokes)
}

// UnitID names the i-th unit, from 0: "U1".
func UnitID(i int) string { return fmt.Sprintf("U%d", i+1) }

func (p *planner) auditUnit(id string, t tube.Tube, byID map[string]*lane) {
	if n := t.Length(); n > p.rules.MaxUnit+1e-6 {
		p.add(finding.Finding{
			Code: "unit-too-long", Severity: finding.Error, Unit: id, At: t.Start(), Got: n, Want: p.rules.MaxUnit,
			What: "the unit is longer than allowed", Remedy: "allow longer units, or make the sign smaller",
		}, nil)
	}
	if box := planBox(t); p.options.Box != [2]float64{} && excess(box, p.options.Box, p.rules.Diameter) > 0.5 {
		p.add(finding.Finding{
			Code: "unit-too-large", Severity: finding.Error, Unit: id, At: t.Start(),
			What: fmt.Sprintf("the unit is %.0f mm wide and %.0f mm high, larger than the bench, door or crate of %.0f by %.0f mm",
				box.Width()+p.rules.Diameter, box.Height()+p.rules.Diameter, p.options.Box[0], p.options.Box[1]),
			Remedy: "allow larger units, make the sign smaller, or break the letter's strokes into units with [[letter]] electrode",
		}, nil)
	}
	for _, piece := range t {
		a, ok := piece.Seg.(geom.Arc3)
		if !ok || a.Radius() >= p.rules.MinRadius-1e-6 {
			continue
		}
		p.add(finding.Finding{
			Code: "too-tight", Severity: finding.Error, Unit: id, Stroke: piece.Stroke, At: a.PointAt(a.Length() / 2),
			Got: a.Radius(), Want: p.rules.MinRadius,
			What: "the bend is tighter than the glass allows", Remedy: "make the letters higher or use a thinner tube",
		}, byID[piece.Stroke])
	}
}

// planBox returns the box of a tube's centreline in plan.
func planBox(t tube.Tube) geom.Rect {
	box := geom.EmptyRect()
	for _, piece := range t {
		n := max(1, int(piece.Seg.Length()))
		for k := range n + 1 {
			box = box.Including(piece.Seg.PointAt(piece.Seg.Length() * float64(k) / float64(n)).Plan())
		}
	}
	return box
}

// auditClearance holds all glass against all other glass along its whole
// length. What trimming leaves under the asked distance by rounding is let pass.
func (p *planner) auditClearance(tubes []tube.Tube, byID map[string]*lane) {
	const rounding = 0.1
	need := p.rules.Need()
	var misses []tube.Clash
	for _, c := range tube.Clashes(tubes, need-rounding, p.window()) {
		misses = noteMiss(misses, c, 3*need)
	}
	for _, m := range misses {
		what := "the glass comes too near other glass of the same unit, centre to centre"
		if m.A != m.B {
			what = "the glass comes too near glass of unit " + UnitID(m.B) + ", centre to centre"
		}
		id := strokeAt(tubes[m.A], m.PosA)
		p.add(finding.Finding{
			Code: "too-near", Severity: finding.Error, Unit: UnitID(m.A), Stroke: id, At: m.At, Got: m.Dist, Want: need,
			What: what, Remedy: "make the letters higher, space them wider, or use a thinner tube",
		}, byID[id])
	}
}

// noteMiss keeps one miss, the worst, for each stretch of the given size.
func noteMiss(misses []tube.Clash, m tube.Clash, size float64) []tube.Clash {
	for i, o := range misses {
		if o.A == m.A && o.B == m.B && o.At.Dist(m.At) < size {
			if m.Dist < o.Dist {
				misses[i] = m
			}
			return misses
		}
	}
	return append(misses, m)
}

func strokeAt(t tube.Tube, pos float64) string {
	for _, p := range t {
		if n := p.Seg.Length(); pos <= n {
			return p.Stroke
		} else {
			pos -= n
		}
	}
	return ""
}

// auditLight walks every stroke and files stretches with no lit glass within
// half a diameter in plan: each over 1 D, or away from ends and junctions.
func (p *planner) auditLight(tubes []tube.Tube, strokes []Stroke) {
	lit := litPlan(tubes, p.rules.Diameter)
	knots := p.knots(tubes, strokes)
	most := p.rules.Diameter
	for _, s := range strokes {
		for _, r := range darkRuns(s.Path, lit, 0.5*p.rules.Diameter+0.25) {
			mid := s.Path.PointAt((r.from + r.to) / 2)
			n := r.to - r.from
			f := finding.Finding{Code: "dark", Severity: finding.Warning, At: mid.At(0), Remedy: "make the letters higher or use a thinner tube"}
			switch {
			case n > 0.98*most:
				f.Got, f.Want = n, most
				f.What = "a stretch of the stroke is left dark, because the glass must keep clear there"
			case !knots.near(mid, 2.2*p.rules.Diameter):
				f.What = fmt.Sprintf("a gap of %.1f mm in the light, away from the ends and crossings of the stroke", n)
			default:
				continue
			}
			p.addFor(f, s)
		}
	}
}

// plan is a set of points in a grid of cells.
type plan struct {
	cell float64
	grid map[[2]int][]geom.Point
}

func newPlan(cell float64) *plan { return &plan{cell, map[[2]int][]geom.Point{}} }

func (g *plan) key(q geom.Point) [2]int {
	return [2]int{int(math.Floor(q.X / g.cell)), int(math.Floor(q.Y / g.cell))}
}

func (g *plan) add(q geom.Point) { k := g.key(q); g.grid[k] = append(g.grid[k], q) }

// near reports whether a point of the set is nearer than r, r at most one cell.
func (g *plan) near(q geom.Point, r float64) bool {
	k := g.key(q)
	for x := k[0] - 1; x <= k[0]+1; x++ {
		for y := k[1] - 1; y <= k[1]+1; y++ {
			for _, o := range g.grid[[2]int{x, y}] {
				if o.Dist(q) < r {
					return true
				}
			}
		}
	}
	return false
}

func litPlan(tubes []tube.Tube, d float64) *plan {
	g := newPlan(0.5*d + 1)
	for _, t := range tubes {
		for _, piece := range t {
			if piece.Role != tube.Lit {
				continue
			}
			n := max(1, int(math.Ceil(2*piece.Seg.Length())))
			for k := range n + 1 {
				g.add(piece.Seg.PointAt(piece.Seg.Length() * float64(k) / float64(n)).Plan())
			}
		}
	}
	return g
}

// knots gathers the places where light may be missing: ends of strokes and of
// units, and crossings of different strokes.
func (p *planner) knots(tubes []tube.Tube, strokes []Stroke) *plan {
	g := newPlan(2.5 * p.rules.Diameter)
	for _, s := range strokes {
		g.add(s.Path.Start())
		g.add(s.Path.End())
	}
	for _, c := range p.findCrossings() {
		if c.a == c.b {
			continue
		}
		g.add(p.lanes[c.a].Path.PointAt(c.sa))
	}
	for _, t := range tubes {
		g.add(t.Start().Plan())
		g.add(t.End().Plan())
	}
	return g
}

type darkRun struct{ from, to float64 }

func darkRuns(path geom.Path, lit *plan, reach float64) []darkRun {
	n := max(1, int(math.Ceil(2*path.Length())))
	h := path.Length() / float64(n)
	var out []darkRun
	open := false
	for k := range n + 1 {
		s := h * float64(k)
		if lit.near(path.PointAt(s), reach) {
			open = false
			continue
		}
		if !open {
			out = append(out, darkRun{s, s})
			open = true
		}
		out[len(out)-1].to = s + h
	}
	return out
}
