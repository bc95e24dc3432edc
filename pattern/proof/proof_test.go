package proof_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/look"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/proof"
	"tubewright/pattern/shop/table"
	"tubewright/pattern/tube"
)

func light(t *testing.T, colour string) look.Light {
	t.Helper()
	l, err := look.Find(table.Embedded(), colour)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func spans(t *testing.T, p pattern.Pattern, colour string) []proof.Span {
	var out []proof.Span
	for _, u := range p.Units {
		out = append(out, proof.Span{Unit: u.ID, Light: light(t, colour)})
	}
	return out
}

func draw(t *testing.T, p pattern.Pattern, colour string, opt proof.Options) (*proof.Scene, *image.RGBA) {
	t.Helper()
	s, err := proof.NewScene(p, spans(t, p, colour), opt)
	if err != nil {
		t.Fatal(err)
	}
	return s, s.Draw()
}

func luminance(c color.RGBA) float64 {
	return 0.2126*proof.LightOf(c.R) + 0.7152*proof.LightOf(c.G) + 0.0722*proof.LightOf(c.B)
}

// Where the pattern has lit glass in the face, the picture is at its brightest; where
// glass is painted out and nothing lit is in front, it is dark.
func TestGlassIsWhereThePatternHasIt(t *testing.T) {
	p := patterntest.Word("HEXS", 60, 1)
	s, img := draw(t, p, "clear-red", proof.Options{Width: 1600, NoScale: true})
	lit, seen := 0, 0
	for _, u := range p.Units {
		for _, piece := range u.Tube {
			for k := 1; k < 8; k++ {
				at := piece.Seg.PointAt(piece.Seg.Length() * float64(k) / 8)
				x, y := s.Pixel(at.Plan())
				l := luminance(img.RGBAAt(int(x), int(y)))
				if piece.Role == tube.Lit && at.Z == 0 {
					lit++
					if l < 1 {
						t.Errorf("%s: lit glass at (%.1f, %.1f) shows %.3f", u.ID, at.X, at.Y, l)
					}
				}
				if piece.Role == tube.Hidden && clearOfLit(p, at, 9) {
					seen++
					if l > 0.6 {
						t.Errorf("%s: block-out at (%.1f, %.1f) shows %.3f", u.ID, at.X, at.Y, l)
					}
				}
			}
		}
	}
	if lit < 10 || seen < 1 {
		t.Fatalf("%d places of lit glass and %d of block-out: too few to tell", lit, seen)
	}
}

func clearOfLit(p pattern.Pattern, at geom.Point3, gap float64) bool {
	for _, u := range p.Units {
		for _, piece := range u.Tube {
			for k := 0; k <= 20 && piece.Role == tube.Lit; k++ {
				if piece.Seg.PointAt(piece.Seg.Length()*float64(k)/20).Plan().Dist(at.Plan()) < gap {
					return false
				}
			}
		}
	}
	return true
}

// A straight tube is as wide in the picture as in the glass, and in its place: the
// edge of the H's left upright found between pixels.
func TestTubeIsAsWideAsTheGlass(t *testing.T) {
	p := patterntest.Word("H", 60, 1)
	s, img := draw(t, p, "clear-red", proof.Options{Width: 900, NoScale: true, Time: proof.Day, Wall: proof.LightWall})
	// Blue: the wall is pale, the glass is not.
	_, y := s.Pixel(geom.Point{X: 0, Y: 34})
	cx, _ := s.Pixel(geom.Point{X: 0, Y: 34})
	right, _ := s.Pixel(geom.Point{X: 1, Y: 34})
	scale := right - cx
	at := func(x float64) float64 { return proof.LightOf(img.RGBAAt(int(x), int(y)).B) }
	wall, glass := at(cx+9*scale), at(cx+5*scale)
	edge := func(way float64) float64 {
		for d := 4 * scale; d < 8*scale; d++ {
			if v := at(cx + way*d); v > (wall+glass)/2 {
				return d / scale
			}
		}
		return math.NaN()
	}
	for _, way := range []float64{-1, 1} {
		if got := edge(way); !(math.Abs(got-6) < 0.5) {
			t.Errorf("the edge toward %+g is %.2f mm from the centreline, 6 wanted", way, got)
		}
	}
}

// The glow on a grey wall has the chromaticity of the table, as far as a screen can
// show it.
func TestGlowHasTheColourOfTheTable(t *testing.T) {
	grey := image.NewUniform(color.Gray{Y: 128})
	wall := image.NewRGBA(image.Rect(0, 0, 4, 4))
	for i := range 16 {
		wall.Set(i%4, i/4, grey.C)
	}
	p := patterntest.Word("H", 60, 1)
	dark := patterntest.Word("H", 60, 1)
	for _, l := range look.Lights() {
		t.Run(l.Colour, func(t *testing.T) {
			opt := proof.Options{Width: 300, NoScale: true, Wall: proof.PictureWall, Picture: wall}
			s, img := draw(t, p, l.Colour, opt)
			unlit := []proof.Span{}
			for _, sp := range spans(t, dark, l.Colour) {
				sp.Light.RGB = [3]float64{}
				unlit = append(unlit, sp)
			}
			off, err := proof.NewScene(dark, unlit, opt)
			if err != nil {
				t.Fatal(err)
			}
			base := off.Draw()
			x, y := s.Pixel(geom.Point{X: -22, Y: 34})
			var c [3]float64
			for dx := -2; dx <= 1; dx++ { // a mean over the pattern that hides bands
				for dy := -2; dy <= 1; dy++ {
					a, b := img.RGBAAt(int(x)+dx, int(y)+dy), base.RGBAAt(int(x)+dx, int(y)+dy)
					c[0] += proof.LightOf(a.R) - proof.LightOf(b.R)
					c[1] += proof.LightOf(a.G) - proof.LightOf(b.G)
					c[2] += proof.LightOf(a.B) - proof.LightOf(b.B)
				}
			}
			wx, wy := look.Chromaticity(l.RGB)
			gx, gy := look.Chromaticity(c)
			if math.Hypot(gx-wx, gy-wy) > 0.02 {
				t.Errorf("glow (%.3f, %.3f), table on a screen (%.3f, %.3f)", gx, gy, wx, wy)
			}
		})
	}
}

// With distance from the glass the glow never grows.
func TestGlowFallsOff(t *testing.T) {
	p := patterntest.Word("H", 60, 1)
	s, img := draw(t, p, "clear-blue", proof.Options{Width: 1200, NoScale: true})
	last := math.Inf(1)
	for d := 8.0; d < 60; d += 4 {
		x, y := s.Pixel(geom.Point{X: -d, Y: 34})
		sum := 0.0
		for dy := -8; dy <= 8; dy++ {
			sum += luminance(img.RGBAAt(int(x), int(y)+dy))
		}
		if sum > 1.02*last {
			t.Errorf("%g mm from the glass the wall is brighter (%.4f) than nearer (%.4f)", d, sum, last)
		}
		last = sum
	}
}

func TestDayIsBrighterThanNight(t *testing.T) {
	p := patterntest.Word("H", 60, 1)
	for _, wall := range proof.Walls() {
		_, night := draw(t, p, "clear-red", proof.Options{Width: 300, Wall: wall})
		_, day := draw(t, p, "clear-red", proof.Options{Width: 300, Wall: wall, Time: proof.Day})
		if a, b := luminance(night.RGBAAt(2, 2)), luminance(day.RGBAAt(2, 2)); b < 3*a {
			t.Errorf("%s: night %.3f, day %.3f", wall, a, b)
		}
	}
}

func TestSameBytesTwice(t *testing.T) {
	p := patterntest.Word("HE", 60, 1)
	var got [2]bytes.Buffer
	for i := range got {
		s, err := proof.NewScene(p, spans(t, p, "pink"), proof.Options{Width: 500, Wall: proof.BrickWall})
		if err != nil {
			t.Fatal(err)
		}
		if err := s.WritePNG(&got[i]); err != nil {
			t.Fatal(err)
		}
		if err := s.WriteSVG(&got[i]); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(got[0].Bytes(), got[1].Bytes()) {
		t.Error("two runs differ")
	}
	// The mark by which the file is known as ours is the proof's own.
	var other bytes.Buffer
	if err := png.Encode(&other, image.NewGray(image.Rect(0, 0, 9, 9))); err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(got[0].Bytes(), []byte(proof.Mark)) || bytes.Contains(other.Bytes(), []byte(proof.Mark)) {
		t.Error("the mark is not in the proof, or in any PNG")
	}
	if _, err := png.Decode(&got[0]); err != nil { // checks the sums of all chunks
		t.Error(err)
	}
}

// The SVG is well formed, and its lit paths go where the pattern's lit glass is; a
// hostile text is text.
func TestSVG(t *testing.T) {
	p := patterntest.Word("HE", 60, 1)
	p.Spec.Name = `</title><script>alert(1)</script>`
	p.Spec.Text = []string{`<img src=x onerror=alert(1)>`, "\u2028]]>"}
	s, err := proof.NewScene(p, spans(t, p, "clear-red"), proof.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := s.WriteSVG(&b); err != nil {
		t.Fatal(err)
	}
	lit := map[string]bool{}
	for dec := xml.NewDecoder(bytes.NewReader(b.Bytes())); ; {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		if el, ok := tok.(xml.StartElement); ok {
			if n := el.Name.Local; n == "script" || n == "img" {
				t.Errorf("an element %s", n)
			}
			unit, role := attr(el, "data-unit"), attr(el, "data-role")
			lit[unit] = lit[unit] || role == "lit"
		}
	}
	for _, u := range p.Units {
		if !lit[u.ID] {
			t.Errorf("%s has no lit path", u.ID)
		}
	}
}

func attr(el xml.StartElement, name string) string {
	for _, a := range el.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func TestWrongOptions(t *testing.T) {
	p := patterntest.Word("H", 60, 1)
	for _, tc := range []struct {
		opt  proof.Options
		want string
	}{
		{proof.Options{Width: 10}, "a width of 10 pixels; it must be from 200 to 8000"},
		{proof.Options{Wall: "plush"}, `unknown wall "plush"`},
		{proof.Options{Wall: proof.PictureWall}, "the wall is"},
		{proof.Options{Time: "noon"}, `unknown time "noon"`},
	} {
		if _, err := proof.NewScene(p, spans(t, p, "clear-red"), tc.opt); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%+v: %v", tc.opt, err)
		}
	}
	if _, err := proof.NewScene(p, nil, proof.Options{}); err == nil {
		t.Error("a unit without a light is no error")
	}
}

func BenchmarkProof4000(b *testing.B) {
	p := patterntest.Word("HESHESHESX", 60, 1)
	var sp []proof.Span
	l, err := look.Find(table.Embedded(), "clear-red")
	if err != nil {
		b.Fatal(err)
	}
	for _, u := range p.Units {
		sp = append(sp, proof.Span{Unit: u.ID, Light: l})
	}
	s, err := proof.NewScene(p, sp, proof.Options{Width: 4000, Wall: proof.BrickWall})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := s.WritePNG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
