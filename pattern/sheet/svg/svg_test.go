package svg

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

func black(width float64) sheet.Pen { return sheet.Pen{Width: width, Colour: sheet.Grey(0)} }

func small() *sheet.Sheet {
	return &sheet.Sheet{
		Width: 200, Height: 100, Title: `Rye & Salt <"1">`, Description: "a test\x00", Frame: sheet.Bench,
		Layers: []sheet.Layer{{ID: "glass", Name: "Glass & co", Groups: []sheet.Group{{ID: "glass-U1", Title: "Unit U1", Items: []sheet.Item{
			sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{X: 10, Y: 20}, geom.Point{X: 30.12345, Y: 20})}, Pen: sheet.Pen{Width: 0.35, Dash: []float64{3, 1.5}, Colour: sheet.RGB(1, 2, 255)}},
			sheet.Shape{Paths: []geom.Path{sheet.Circle(geom.Point{X: 50, Y: 50}, 6)}, Fill: sheet.Grey(0)},
			sheet.Text{At: geom.Point{X: 5, Y: 5}, Text: "<7> & ½", Size: 4, Anchor: sheet.Middle, Font: sheet.Bold, Turn: 90 * geom.Degree, Colour: sheet.Grey(0)},
		}}}}},
	}
}

func encoded(t *testing.T, s *sheet.Sheet) string {
	t.Helper()
	var buf bytes.Buffer
	if err := Encode(&buf, s); err != nil {
		t.Fatal(err)
	}
	return buf.String()
}

func TestFileIsWellFormedAndInMillimetres(t *testing.T) {
	got := encoded(t, small())
	for d := xml.NewDecoder(strings.NewReader(got)); ; {
		if _, err := d.Token(); err == io.EOF {
			break
		} else if err != nil {
			t.Fatalf("%v in\n%s", err, got)
		}
	}
	for _, want := range []string{
		`width="200mm" height="100mm" viewBox="0 0 200 100"`,
		`<title>Rye &amp; Salt &lt;&#34;1&#34;&gt;</title>`,
		`<g id="glass" inkscape:groupmode="layer" inkscape:label="Glass &amp; co">`,
		`<g id="glass-U1">`,
		`d="M10 80 L30.123 80" fill="none" stroke="#0102ff" stroke-width="0.35"`,
		`stroke-dasharray="3 1.5"`,
		`x="5" y="95"`, `text-anchor="middle"`, `font-weight="bold"`, `transform="rotate(-90 5 95)"`,
		`>&lt;7&gt; &amp; ½</text>`,
	} {
		if !strings.Contains(got, want) {
			t.Errorf("%s is not in\n%s", want, got)
		}
	}
}

// Arcs of every size and turn, read back by the rules of the SVG specification
// (appendix F.6.5 of version 1.1, for circles), are the arcs that went in.
func TestArcsSurvive(t *testing.T) {
	for _, sweep := range []float64{10, 90, 179, 180, 181, 270, 350, 360, -1, -45, -180, -200, -360} {
		a := geom.Arc{Centre: geom.Point{X: 60, Y: 40}, Radius: 25, From: 0.7, Sweep: geom.Angle(sweep) * geom.Degree}
		e := encoder{height: 100}
		d := e.path(geom.Path{Segments: []geom.Segment{a}})
		var x, y float64
		if _, err := fmt.Sscanf(d[0], "M%g %g", &x, &y); err != nil {
			t.Fatal(err)
		}
		done := 0.0
		for _, piece := range d[1:] {
			var rx, ry, turn, tox, toy float64
			var large, flag int
			if _, err := fmt.Sscanf(piece, "A%g %g %g %d %d %g %g", &rx, &ry, &turn, &large, &flag, &tox, &toy); err != nil {
				t.Fatal(err)
			}
			mid := middle(x, y, tox, toy, rx, large == 1, flag == 1)
			done += 2 * rx * math.Asin(math.Hypot(tox-x, toy-y)/2/rx)
			want := a.PointAt(done - rx*math.Asin(math.Hypot(tox-x, toy-y)/2/rx))
			if off := mid.Dist(geom.Point{X: want.X, Y: 100 - want.Y}); off > 0.002 {
				t.Errorf("sweep %g: a piece bulges to %v, %.3f mm off", sweep, mid, off)
			}
			x, y = tox, toy
		}
		if math.Abs(done-a.Length()) > 0.01 {
			t.Errorf("sweep %g: %d pieces of %.3f mm in all, the arc has %.3f", sweep, len(d)-1, done, a.Length())
		}
	}
}

// middle returns the middle of a circular arc as a reader draws it, y down.
func middle(x0, y0, x1, y1, r float64, large, sweep bool) geom.Point {
	hx, hy := (x0-x1)/2, (y0-y1)/2
	k := math.Sqrt(max(0, r*r-hx*hx-hy*hy) / (hx*hx + hy*hy))
	if large == sweep {
		k = -k
	}
	cx, cy := k*hy+(x0+x1)/2, -k*hx+(y0+y1)/2
	from, to := math.Atan2(y0-cy, x0-cx), math.Atan2(y1-cy, x1-cx)
	turn := to - from
	if sweep && turn < 0 {
		turn += 2 * math.Pi
	}
	if !sweep && turn > 0 {
		turn -= 2 * math.Pi
	}
	s, c := math.Sincos(from + turn/2)
	return geom.Point{X: cx + r*c, Y: cy + r*s}
}

func TestSameBytes(t *testing.T) {
	if first, second := encoded(t, small()), encoded(t, small()); first != second {
		t.Error("two runs differ")
	}
}

func TestErrorsAreReported(t *testing.T) {
	s := small()
	s.Layers[0].Groups[0].Items = append(s.Layers[0].Groups[0].Items,
		sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{}, geom.Point{X: math.NaN()})}, Pen: black(1)})
	if err := Encode(io.Discard, s); err == nil {
		t.Error("a coordinate that is not a number was written")
	}
	full := errors.New("disk full")
	if err := Encode(failing{full}, small()); !errors.Is(err, full) {
		t.Errorf("the writer's error came back as %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }
