package order_test

import (
	"math"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/order"
	"tubewright/pattern/tube"
)

const d = 12.0

func v(x, y, z, r float64) tube.Vertex {
	return tube.Vertex{P: geom.Point3{X: x, Y: y, Z: z}, R: r}
}

func fillet(t testing.TB, vs ...tube.Vertex) tube.Tube {
	t.Helper()
	segs, err := tube.Fillet(vs)
	if err != nil {
		t.Fatal(err)
	}
	var out tube.Tube
	for _, s := range segs {
		out = append(out, tube.Piece{Seg: s})
	}
	return out
}

// problem is a whole unit with the tails that its held length asks for.
func problem(tb tube.Tube, rules glass.Rules) order.Problem {
	tab := bend.Tabulate(tb)
	heats := bend.Heats(tb, &tab, rules)
	n := tb.Length()
	p := order.Problem{Tube: tb, Heats: heats, Rules: rules, To: n}
	p.Head = max(0, rules.Hold-heats[0].From)
	p.Tail = max(0, rules.Hold-(n-heats[len(heats)-1].To))
	return p
}

// letterA is the run of trade notes 2.4 and 2.5 at a centreline height of 138 for
// a tube of 12 mm: left foot up to the bar, into the bar, double-back short of
// the right leg, back behind the bar, a tilted turn to the leg line, up to the
// apex, down to the right foot. Its vertices are those of the geometry notes 5b,
// 7 and 9.
func letterA(t testing.TB) tube.Tube {
	const rc, u, yv, bar = 1.27 * d, 1.0 * d, 173.1, 45.0
	x := 55 * bar / yv
	e := geom.Vec{X: 55, Y: yv}.Unit()
	run := 2 * u / math.Tan(42*math.Pi/180)
	tip := 110 - x - 18
	return fillet(t,
		v(0, 0, -60-rc, 0), v(0, 0, 0, rc), v(x, bar, 0, rc), v(tip, bar, 0, u), v(tip, bar, -2*u, u),
		v(x, bar, -2*u, rc), v(x+e.X*run, bar+e.Y*run, 0, rc), v(55, yv, 0, rc), v(110, 0, 0, rc), v(110, 0, -60-rc, 0))
}

func TestLook(t *testing.T) {
	p := problem(letterA(t), glass.Default(d))
	plan, block := order.Find(p)
	t.Logf("way %v exact %v checks %d block %+v", plan.Way, plan.Exact, plan.Checks, block)
	for i, h := range p.Heats {
		t.Logf("%d %s %s %.0f° R%.1f  %.0f–%.0f", i, h.Kind, h.Direction, h.Angle.Degrees(), h.Radius, h.From, h.To)
	}
	for _, s := range plan.Steps {
		t.Logf("%+v", s)
	}
}
