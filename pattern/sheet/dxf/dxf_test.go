package dxf

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

func encode(t *testing.T, items ...sheet.Item) []group {
	t.Helper()
	var b bytes.Buffer
	s := &sheet.Sheet{Width: 200, Height: 100, Layers: []sheet.Layer{{ID: "glass", Groups: []sheet.Group{{Items: items}}}}}
	if err := Encode(&b, s); err != nil {
		t.Fatal(err)
	}
	return parse(t, b.String())
}

type group struct {
	code  int
	value string
}

// parse reads groups back: a code and a value, a line each.
func parse(t *testing.T, file string) []group {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(file, "\r\n"), "\r\n")
	if len(lines)%2 != 0 {
		t.Fatalf("%d lines", len(lines))
	}
	var out []group
	for i := 0; i < len(lines); i += 2 {
		code, err := strconv.Atoi(strings.TrimSpace(lines[i]))
		if err != nil {
			t.Fatalf("line %d: %q", i+1, lines[i])
		}
		out = append(out, group{code, lines[i+1]})
	}
	return out
}

// entity returns the values of the n-th entity of a kind.
func entity(gs []group, kind string, n int) map[int]string {
	for i, g := range gs {
		if g.code != 0 || g.value != kind {
			continue
		}
		if n > 0 {
			n--
			continue
		}
		out := map[int]string{}
		for _, k := range gs[i+1:] {
			if k.code == 0 {
				return out
			}
			out[k.code] = k.value
		}
	}
	return nil
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// An arc read back from its entity has the ends of the arc written, whichever way it
// was travelled.
func TestArcsAreTrue(t *testing.T) {
	pen := sheet.Pen{Width: 0.3, Colour: sheet.Grey(0)}
	for _, sweep := range []geom.Angle{70 * geom.Degree, -70 * geom.Degree, 200 * geom.Degree, -350 * geom.Degree} {
		a := geom.Arc{Centre: geom.Point{X: 40, Y: 50}, Radius: 12.5, From: -30 * geom.Degree, Sweep: sweep}
		e := entity(encode(t, sheet.Shape{Pen: pen, Paths: []geom.Path{{Segments: []geom.Segment{a}}}}), "ARC", 0)
		c := geom.Point{X: number(t, e[10]), Y: number(t, e[20])}
		r := number(t, e[40])
		from, to := number(t, e[50]), number(t, e[51])
		if swept := math.Mod(to-from+360, 360); math.Abs(swept-sweep.Abs().Degrees()) > 1e-5 {
			t.Errorf("sweep of %v°: %v° written", sweep.Degrees(), swept)
		}
		at := func(deg float64) geom.Point { return c.Add(geom.UnitAt(geom.Angle(deg) * geom.Degree).Mul(r)) }
		p, q := a.PointAt(0), a.PointAt(a.Length())
		if sweep < 0 {
			p, q = q, p
		}
		if p.Dist(at(from)) > 1e-5 || q.Dist(at(to)) > 1e-5 {
			t.Errorf("sweep of %v°: ends at %v and %v, want %v and %v", sweep.Degrees(), at(from), at(to), p, q)
		}
	}
}

func TestEntities(t *testing.T) {
	pen := sheet.Pen{Width: 0.3, Colour: sheet.Grey(0)}
	gs := encode(t,
		sheet.Shape{Pen: pen, Paths: []geom.Path{sheet.Polyline(geom.Point{X: 1, Y: 2}, geom.Point{X: 3, Y: 4.5}), sheet.Circle(geom.Point{X: 7, Y: 8}, 9)}},
		sheet.Text{At: geom.Point{X: 5, Y: 6}, Text: "Ø 17 ± 90° 100 % 穴", Size: 4, Anchor: sheet.End, Colour: sheet.Grey(0)},
		sheet.Shape{Paths: []geom.Path{sheet.Circle(geom.Point{}, 1)}})
	l := entity(gs, "LINE", 0)
	if l[10] != "1.0" || l[20] != "2.0" || l[11] != "3.0" || l[21] != "4.5" || l[8] != "GLASS" {
		t.Errorf("line %v", l)
	}
	if c := entity(gs, "CIRCLE", 0); c[10] != "7.0" || c[40] != "9.0" {
		t.Errorf("circle %v", c)
	}
	if entity(gs, "CIRCLE", 1) != nil {
		t.Error("a shape that leaves no mark was written")
	}
	x := entity(gs, "TEXT", 0)
	if x[1] != `%%c 17 %%p 90%%d 100 %%% \U+7A74` || x[72] != "2" || math.Abs(number(t, x[40])-sheet.CapHeight(4)) > 1e-6 {
		t.Errorf("text %v", x)
	}
	for _, g := range gs {
		if g.code == 0 && !strings.Contains("SECTION ENDSEC EOF TABLE ENDTAB LTYPE LAYER STYLE LINE ARC CIRCLE TEXT", g.value) {
			t.Errorf("entity %s", g.value)
		}
	}
}

func TestErrorsAreReported(t *testing.T) {
	bad := &sheet.Sheet{Layers: []sheet.Layer{{ID: "x", Groups: []sheet.Group{{Items: []sheet.Item{
		sheet.Text{At: geom.Point{X: math.NaN()}, Text: "x", Size: 4, Colour: sheet.Grey(0)}}}}}}}
	if err := Encode(io.Discard, bad); err == nil {
		t.Error("a coordinate that is not a number was written")
	}
	full := errors.New("disk full")
	if err := Encode(failing{full}, &sheet.Sheet{}); !errors.Is(err, full) {
		t.Errorf("the writer's error came back as %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
