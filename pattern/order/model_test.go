package order

import (
	"math"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// With every heat made, the glass lies where the tube says, in the bench frame.
func TestFinishedGlassLiesWhereTheTubeIs(t *testing.T) {
	v := func(x, y, z, r float64) tube.Vertex { return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r} }
	segs, err := tube.Fillet([]tube.Vertex{v(0, 0, -75, 0), v(0, 0, 0, 15), v(120, 30, 0, 12), v(120, 30, -24, 12), v(0, 20, -24, 12), v(-30, 90, 0, 15), v(-60, 180, 0, 0)})
	if err != nil {
		t.Fatal(err)
	}
	var tb tube.Tube
	for _, s := range segs {
		tb = append(tb, tube.Piece{Seg: s})
	}
	tab := bend.Tabulate(tb)
	p := Problem{Tube: tb, Heats: bend.Heats(tb, &tab, glass.Default(12)), Rules: glass.Default(12), To: tb.Length()}
	m := newModel(p)
	n := len(m.heats)
	for h := range n {
		b := &m.heats[h]
		pose := b.kept(1).far
		for _, d := range []float64{pose.o.Dist(b.exit.o), pose.x.Sub(b.exit.x).Norm(), pose.y.Sub(b.exit.y).Norm()} {
			if d > 1e-9 {
				t.Errorf("heat %d: the end of the swing is %g off the bent shape", h, d)
			}
		}
		before, after := m.sides(span(0, n-1), h)
		for i, side := range [][]group{before, after} {
			f := b.entry
			if i == 1 {
				f = b.exitDone
			}
			for _, g := range side {
				for k, q := range g.pts {
					if want := pointAt(tb, g.at[k]); f.at(q).Dist(want) > 1e-6 {
						t.Fatalf("heat %d, glass at %.1f mm: %v, the tube is at %v", h, g.at[k], f.at(q), want)
					}
				}
			}
		}
	}
}

func pointAt(tb tube.Tube, s float64) geom.Point3 {
	for _, p := range tb {
		if n := p.Seg.Length(); s <= n+1e-9 {
			return benchPoint(p.Seg.PointAt(math.Min(s, n)))
		} else {
			s -= n
		}
	}
	return benchPoint(tb.End())
}

// However many heats a unit has, the frames at them stay square and of length 1,
// and the glass stays where the tube is: no rounding grows from heat to heat.
func TestFramesStayTrueOverManyHeats(t *testing.T) {
	var vs []tube.Vertex
	for k := range 120 {
		p := geom.Point3{X: 70 * float64(k), Y: float64(k%2) * 95, Z: -float64(k%3) * 11}
		vs = append(vs, tube.Vertex{P: p, R: 14})
	}
	segs, err := tube.Fillet(vs)
	if err != nil {
		t.Fatal(err)
	}
	var tb tube.Tube
	for _, s := range segs {
		tb = append(tb, tube.Piece{Seg: s})
	}
	tab := bend.Tabulate(tb)
	heats := bend.Heats(tb, &tab, glass.Default(12))
	if len(heats) < 60 {
		t.Fatalf("%d heats: too few to tell", len(heats))
	}
	m := newModel(Problem{Tube: tb, Heats: heats, Rules: glass.Default(12), To: tb.Length()})
	for h := range m.heats {
		for _, f := range [2]frame{m.heats[h].entry, m.heats[h].exitDone} {
			for _, off := range []float64{f.x.Norm() - 1, f.y.Norm() - 1, f.z.Norm() - 1, f.x.Dot(f.y), f.y.Dot(f.z), f.z.Dot(f.x)} {
				if math.Abs(off) > 1e-9 {
					t.Fatalf("heat %d of %d: axes are %g off", h, len(heats), off)
				}
			}
		}
	}
	last := len(m.heats) - 1
	_, after := m.sides(span(0, last), 0)
	for _, g := range after {
		for k, q := range g.pts {
			if off := m.heats[0].exitDone.at(q).Dist(pointAt(tb, g.at[k])); off > 1e-6 {
				t.Fatalf("glass at %.1f mm is %g mm off the tube", g.at[k], off)
			}
		}
	}
}

// span returns the set of heats i to j.
func span(i, j int) set {
	var s set
	for ; i <= j; i++ {
		s = s.with(i)
	}
	return s
}
