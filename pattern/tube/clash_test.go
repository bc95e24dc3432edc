package tube

import (
	"math"
	"math/rand/v2"
	"testing"

	"tubewright/geom"
)

func of(segs ...geom.Segment3) Tube {
	var t Tube
	for _, s := range segs {
		t = append(t, Piece{Seg: s})
	}
	return t
}

// Closed forms: parallel and skew lines, a line over an arc, rings in one plane.
func TestClashesInClosedForm(t *testing.T) {
	line := func(x0, y0, z0, x1, y1, z1 float64) geom.Segment3 {
		return geom.Line3{A: geom.Point3{X: x0, Y: y0, Z: z0}, B: geom.Point3{X: x1, Y: y1, Z: z1}}
	}
	ring := func(x, r, turn float64) geom.Segment3 {
		return geom.Arc3{Centre: geom.Point3{X: x}, Axis: geom.Vec3{Z: 1}, From: geom.Vec3{X: r}, Angle: geom.Angle(turn)}
	}
	for _, c := range []struct {
		name string
		a, b geom.Segment3
		want float64
	}{
		{"parallel", line(0, 0, 0, 300, 0, 0), line(50, 9, -12, 60, 9, -12), 15},
		{"skew", line(-100, 0, 0, 100, 0, 0), line(3, -90, -11, 3, 90, -11), 11},
		{"end to end", line(0, 0, 0, 50, 0, 0), line(53, 4, 0, 90, 80, 0), 5},
		{"rings side by side", ring(0, 40, 2*math.Pi), ring(97, 40, 2*math.Pi), 17},
		{"ring in ring", ring(0, 40, 2*math.Pi), ring(3, 22, 2*math.Pi), 15},
		{"line past a ring", ring(0, 40, 2*math.Pi), line(52, -200, -5, 52, 200, -5), 13},
		{"line through the middle", ring(0, 17, 2*math.Pi), line(0, 0, -50, 0, 0, 50), 17},
		{"clear", line(0, 0, 0, 300, 0, 0), line(0, 18.001, 0, 300, 18.001, 0), 18},
	} {
		least := 18.0
		for _, x := range Clashes([]Tube{of(c.a), of(c.b)}, 18, 30) {
			if x.A != x.B { // a whole ring meets its own other end
				least = min(least, x.Dist)
			}
		}
		if math.Abs(least-c.want) > ClashError {
			t.Errorf("%s: %.4f, want %.4f", c.name, least, c.want)
		}
	}
}

// Random tubes: no sampled pair of places is nearer than what was found, and
// what was found is within the error of a pair of places of the tubes.
func TestClashesAgainstDenseSamples(t *testing.T) {
	draw := rand.New(rand.NewPCG(3, 1))
	const need, window = 18, 40
	hits := 0
	for n := range 60 {
		tubes := []Tube{randomTube(draw), randomTube(draw)}
		found := Clashes(tubes, need, window)
		least := map[[2]int]float64{}
		for i, c := range found {
			if i > 0 && c == found[i-1] {
				t.Errorf("case %d: a clash is told twice", n)
			}
			k := [2]int{c.A, c.B}
			if v, ok := least[k]; !ok || c.Dist < v {
				least[k] = c.Dist
			}
			a, b := at(tubes[c.A], c.PosA), at(tubes[c.B], c.PosB)
			if d := a.Dist(b); math.Abs(d-c.Dist) > ClashError {
				t.Errorf("case %d: a clash of %.4f, its places are %.4f apart", n, c.Dist, d)
			}
			if c.A == c.B && math.Abs(c.PosA-c.PosB) < window-2*shortStretch {
				t.Errorf("case %d: places %.2f apart along one tube", n, math.Abs(c.PosA-c.PosB))
			}
		}
		for _, k := range [][2]int{{0, 0}, {0, 1}, {1, 1}} {
			v, ok := least[k]
			if !ok {
				v = need
			} else {
				hits++
			}
			if d := sampled(tubes[k[0]], tubes[k[1]], k[0] == k[1], window); d < v-ClashError-1e-9 {
				t.Errorf("case %d, tubes %v: samples %.4f apart, found %.4f", n, k, d, v)
			}
		}
	}
	if hits < 40 {
		t.Errorf("only %d pairs of tubes came near", hits)
	}
}

func at(t Tube, pos float64) geom.Point3 {
	for _, p := range t {
		if n := p.Seg.Length(); pos <= n {
			return p.Seg.PointAt(pos)
		} else {
			pos -= n
		}
	}
	return t.End()
}

func sampled(a, b Tube, same bool, window float64) float64 {
	const step = 0.5
	least := math.Inf(1)
	var pa, pb []geom.Point3
	for s := 0.0; s <= a.Length(); s += step {
		pa = append(pa, at(a, s))
	}
	for s := 0.0; s <= b.Length(); s += step {
		pb = append(pb, at(b, s))
	}
	for i, p := range pa {
		for j, q := range pb {
			if !same || float64(j-i)*step > window {
				least = min(least, p.Dist(q))
			}
		}
	}
	return least
}

func randomTube(draw *rand.Rand) Tube {
	r := func(n float64) float64 { return n * (draw.Float64() - 0.5) }
	vs := []Vertex{}
	for range 4 {
		vs = append(vs, Vertex{P: geom.Point3{X: r(160), Y: r(160), Z: r(60)}, R: 9})
	}
	segs, err := Fillet(vs)
	if err != nil {
		return randomTube(draw)
	}
	return of(segs...)
}

// A row of a hundred tubes, about as dense as letters.
func BenchmarkClashes(b *testing.B) {
	draw := rand.New(rand.NewPCG(9, 9))
	var tubes []Tube
	for i := range 100 {
		t := randomTube(draw)
		for k, p := range t {
			v := geom.Vec3{X: 150 * float64(i)}
			switch s := p.Seg.(type) {
			case geom.Line3:
				t[k].Seg = geom.Line3{A: s.A.Add(v), B: s.B.Add(v)}
			case geom.Arc3:
				s.Centre = s.Centre.Add(v)
				t[k].Seg = s
			}
		}
		tubes = append(tubes, t)
	}
	for b.Loop() {
		Clashes(tubes, 18, 40)
	}
}
