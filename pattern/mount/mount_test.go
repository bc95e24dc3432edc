package mount_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/mount"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/sheet"
	"tubewright/pattern/sheet/dxf"
	"tubewright/pattern/words"
)

func texts(s *sheet.Sheet) []sheet.Text {
	var out []sheet.Text
	for _, l := range s.Layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				if t, ok := i.(sheet.Text); ok {
					out = append(out, t)
				}
			}
		}
	}
	return out
}

// origin reads from the sheet's own words where front (0, 0) stands.
func origin(t *testing.T, s *sheet.Sheet) geom.Vec {
	t.Helper()
	_, rest, ok := strings.Cut(s.Description, "is at (")
	var x, y float64
	if _, err := fmt.Sscanf(rest, "%g + x, %g + y)", &x, &y); !ok || err != nil {
		t.Fatalf("the description does not tell the frame: %q", s.Description)
	}
	return geom.Vec{X: x, Y: y}
}

// Every electrode has its hole where it stands, unmirrored, and its row in the table
// tells the same place from the datum.
func TestHolesAreWhereTheElectrodesAre(t *testing.T) {
	p := patterntest.Word("HEXS", 60, 1)
	s := mount.Draw(p, mount.Options{}, words.English())
	o, datum := origin(t, s), mount.Datum(p)
	holes, ok := s.Layer("holes")
	if !ok || len(holes.Groups) != 2*len(p.Units) {
		t.Fatalf("%d holes of %d units", len(holes.Groups), len(p.Units))
	}
	said := map[string]bool{}
	for _, w := range texts(s) {
		said[w.Text] = true
	}
	k := 0
	for _, u := range p.Units {
		for _, e := range u.Electrodes {
			c := holes.Groups[k].Items[0].Bounds().Centre()
			k++
			if want := e.At.Plan().Add(o); c.Dist(want) > 0.001 {
				t.Errorf("%s %s: hole at %v, electrode at %v", u.ID, e.End, c, want)
			}
			for _, v := range []float64{e.At.X - datum.X, e.At.Y - datum.Y} {
				if v < 0 || !said[fmt.Sprintf("%.2f", v)] {
					t.Errorf("%s %s: the table does not say %.2f", u.ID, e.End, v)
				}
			}
		}
	}
}

// The lettering reads as it does on the sign: the glass is drawn where it is in front.
func TestGlassIsNotMirrored(t *testing.T) {
	p := patterntest.Word("E", 40, 1)
	s := mount.Draw(p, mount.Options{}, words.English())
	o := origin(t, s)
	line, _ := s.Layer("centreline")
	var paths []geom.Path
	for _, i := range line.Groups[0].Items {
		paths = append(paths, i.(sheet.Shape).Paths...)
	}
	for _, piece := range p.Units[0].Tube {
		q := piece.Seg.PointAt(piece.Seg.Length() / 2).Plan().Add(o)
		near := math.Inf(1)
		for _, path := range paths {
			_, d := path.Nearest(q)
			near = min(near, d)
		}
		if near > 0.02 {
			t.Fatalf("glass at %v is %.2f mm from any line drawn", q, near)
		}
	}
}

func TestTextStandsClear(t *testing.T) {
	for _, language := range words.Languages() {
		w, err := words.In(language)
		if err != nil {
			t.Fatal(err)
		}
		for _, text := range []string{"HE", "SEXHHEXS", "X"} {
			p := patterntest.Word(text, 40, 1)
			s := mount.Draw(p, mount.Options{}, w)
			all := texts(s)
			for i, a := range all {
				for _, b := range all[:i] {
					if a.Bounds().Overlaps(b.Bounds()) {
						t.Errorf("%s %s: %q over %q", language, text, a.Text, b.Text)
					}
				}
				if sheet.CapHeight(a.Size) < 2.5 {
					t.Errorf("%q is %.2f mm high", a.Text, sheet.CapHeight(a.Size))
				}
			}
			o := origin(t, s)
			for _, u := range p.Units {
				for _, piece := range u.Tube {
					for at := 0.0; at < piece.Seg.Length(); at++ {
						q := piece.Seg.PointAt(at).Plan().Add(o)
						for _, a := range all {
							b := a.Bounds()
							near := geom.Point{X: min(max(q.X, b.Min.X), b.Max.X), Y: min(max(q.Y, b.Min.Y), b.Max.Y)}
							if near.Dist(q) < p.Spec.Rules.Diameter/2 {
								t.Fatalf("%s %s: %q over glass at %v", language, text, a.Text, q)
							}
						}
					}
				}
			}
		}
	}
}

// The rules of supports, read back from the places found.
func TestSupports(t *testing.T) {
	p := patterntest.Word("HEXS", 60, 2)
	o := mount.Options{}
	byUnit := map[string]int{}
	for _, s := range mount.Supports(p, o) {
		byUnit[s.Unit]++
		on := false
		for _, u := range p.Units {
			for _, piece := range u.Tube {
				for at := 0.0; at <= piece.Seg.Length(); at += 0.5 {
					q := piece.Seg.PointAt(at)
					on = on || u.ID == s.Unit && q.Plan().Dist(s.At) < 0.6 && math.Abs(q.Z+s.Depth) < 0.6
				}
			}
		}
		if !on {
			t.Errorf("%s is not on the glass of %s", s.Name, s.Unit)
		}
	}
	for _, u := range p.Units {
		if n := byUnit[u.ID]; n < 2 || float64(n) < (u.Tube.Length()-300)/450 {
			t.Errorf("%s has %d supports on %.0f mm", u.ID, n, u.Tube.Length())
		}
	}
}

// Ends that come near each other are told.
func TestNearEndsAreTold(t *testing.T) {
	say := ""
	for _, w := range texts(mount.Draw(patterntest.Word("HE", 19, 0.5), mount.Options{KeepOut: 60}, words.English())) {
		say += w.Text + " "
	}
	if !strings.Contains(say, "closer than 60 mm") {
		t.Errorf("nothing is said of near ends: %s", say)
	}
}

func TestDXFSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := dxf.Encode(w, mount.Draw(patterntest.Word("HEXS", 40, 1), mount.Options{}, words.English())); err != nil {
			t.Fatal(err)
		}
	}
	if a.Len() < 10000 || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("two runs differ: %d and %d bytes", a.Len(), b.Len())
	}
}
