package look_test

import (
	"math"
	"testing"

	"tubewright/pattern/look"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/shop/table"
)

// line is a spectral line: its wavelength in nm (NIST Atomic Spectra Database,
// rounded) and its share of the radiant power in a sign tube (from memory: M).
type line struct{ nm, power float64 }

func lobe(nm, mid, left, right float64) float64 {
	k := left
	if nm >= mid {
		k = right
	}
	return math.Exp(-0.5 * math.Pow((nm-mid)*k, 2))
}

// cie returns the CIE 1931 2° functions by the sums of lobes of C. Wyman, P.-P. Sloan
// and P. Shirley, "Simple Analytic Approximations to the CIE XYZ Color Matching
// Functions", Journal of Computer Graphics Techniques 2(2), 2013, table 1.
func cie(nm float64) [3]float64 {
	return [3]float64{
		0.362*lobe(nm, 442.0, 0.0624, 0.0374) + 1.056*lobe(nm, 599.8, 0.0264, 0.0323) - 0.065*lobe(nm, 501.1, 0.0490, 0.0382),
		0.821*lobe(nm, 568.8, 0.0213, 0.0247) + 0.286*lobe(nm, 530.9, 0.0613, 0.0322),
		1.217*lobe(nm, 437.0, 0.0845, 0.0278) + 0.681*lobe(nm, 459.0, 0.0385, 0.0725),
	}
}

// band is a powder's band: a bell curve with its full width at half height, and its
// power as a share of all lines.
type band struct{ nm, width, share float64 }

func chromaticity(lines []line, pass func(float64) float64, b band) (x, y float64) {
	var sum [3]float64
	total := 0.0
	for _, l := range lines {
		total += l.power
	}
	for _, l := range lines {
		for i, v := range cie(l.nm) {
			sum[i] += l.power / total * pass(l.nm) * v
		}
	}
	if b.share > 0 {
		var acc [3]float64
		all := 0.0
		for nm := 380.0; nm < 760; nm++ {
			e := math.Exp(-0.5 * math.Pow((nm-b.nm)/(b.width/2.3548), 2))
			all += e
			for i, v := range cie(nm) {
				acc[i] += e * v
			}
		}
		for i := range sum {
			sum[i] += b.share * acc[i] / all
		}
	}
	t := sum[0] + sum[1] + sum[2]
	return sum[0] / t, sum[1] / t
}

func neon() []line {
	return []line{{585.25, 20}, {588.19, 10}, {594.48, 10}, {597.55, 5}, {603.00, 8}, {607.43, 10}, {609.62, 12}, {614.31, 15},
		{616.36, 10}, {621.73, 8}, {626.65, 12}, {630.48, 5}, {633.44, 15}, {638.30, 18}, {640.22, 30}, {650.65, 18}, {653.29, 6},
		{659.90, 8}, {667.83, 10}, {671.70, 6}, {692.95, 10}, {703.24, 15}}
}

func mercury() []line { return []line{{404.66, 0.9}, {435.83, 2.2}, {546.07, 1.2}, {578.0, 0.25}} }

func argon() []line {
	return []line{{394.9, 4}, {404.4, 6}, {415.86, 20}, {418.19, 7}, {420.07, 20}, {425.94, 15}, {427.22, 10}, {430.01, 10},
		{433.36, 8}, {451.07, 6}, {549.6, 4}, {560.7, 4}, {591.2, 4}, {603.2, 6}, {641.6, 6}, {675.3, 8}, {687.1, 8},
		{696.54, 60}, {706.72, 60}, {714.7, 8}, {727.3, 20}, {738.4, 60}}
}

func helium() []line {
	return []line{{388.86, 10}, {402.6, 3}, {447.15, 10}, {471.31, 3}, {492.19, 4}, {501.57, 12}, {587.56, 50}, {667.82, 20}, {706.52, 15}}
}

func all(float64) float64 { return 1 }
func above(edge, soft float64) func(float64) float64 {
	return func(nm float64) float64 { return 1 / (1 + math.Exp(-(nm-edge)/soft)) }
}

func TestChromaticitiesFollowFromTheLines(t *testing.T) {
	for _, tc := range []struct {
		colour string
		lines  []line
		pass   func(float64) float64
		b      band
	}{
		{"clear-red", neon(), all, band{}}, {"clear-blue", mercury(), all, band{}},
		{"clear-violet", argon(), all, band{}}, {"clear-white", helium(), all, band{}},
		{"pink", neon(), all, band{450, 60, 0.35}}, {"hot-pink", neon(), all, band{440, 50, 0.52}},
		{"orange", neon(), all, band{528, 45, 0.12}}, {"blue", mercury(), all, band{450, 60, 1.35}},
		{"green", mercury(), above(510, 12), band{}}, {"ruby-red", neon(), above(610, 6), band{}},
	} {
		t.Run(tc.colour, func(t *testing.T) {
			l, err := look.Find(table.Embedded(), tc.colour)
			if err != nil {
				t.Fatal(err)
			}
			x, y := chromaticity(tc.lines, tc.pass, tc.b)
			if math.Hypot(x-l.X, y-l.Y) > 0.012 {
				t.Errorf("table has (%.3f, %.3f), the lines give (%.3f, %.3f)", l.X, l.Y, x, y)
			}
		})
	}
}

func TestEveryColourOfTheShopHasALight(t *testing.T) {
	for _, key := range table.Embedded().Table("colours").Keys() {
		l, err := look.Find(table.Embedded(), key)
		if err != nil || l.Colour != key || l.Source == "" || l.Grade == "" || max(l.RGB[0], l.RGB[1], l.RGB[2]) != 1 {
			t.Errorf("%s: %+v, %v", key, l, err)
		}
	}
	if _, err := look.Find(table.Embedded(), "sky-blue-pink"); err == nil {
		t.Error("an unknown colour is no error")
	}
}

// sRGB's own primaries and white come back as they are (IEC 61966-2-1).
func TestScreenColourRoundTrip(t *testing.T) {
	for _, tc := range [][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}, {0.3127, 0.3290}, {0.4, 0.4}} {
		x, y := look.Chromaticity(look.RGB(tc[0], tc[1]))
		if math.Hypot(x-tc[0], y-tc[1]) > 2e-3 {
			t.Errorf("(%g, %g) comes back as (%.4f, %.4f)", tc[0], tc[1], x, y)
		}
	}
}

func TestWallIsBehindAllGlassButLegs(t *testing.T) {
	p := patterntest.Word("HE", 40, 1)
	if got := look.WallZ(p, 6); got > -2*0.8*12-6-6+1e-9 {
		t.Errorf("wall at %g", got)
	}
}

func TestSamplesLieOnTheGlass(t *testing.T) {
	u := patterntest.Word("E", 40, 1).Units[0]
	pts := look.Samples(u, 0.1)
	if d := pts[len(pts)-1].S - u.Tube.Length(); math.Abs(d) > 1e-9 {
		t.Errorf("the last sample is %g mm from the end", d)
	}
	for i, p := range pts {
		if p.At.Dist(look.PointAt(u.Tube, p.S)) > 1e-6 {
			t.Fatalf("sample %d is not where its length says", i)
		}
		if i > 0 {
			mid := p.At.Lerp(pts[i-1].At, 0.5)
			if mid.Dist(look.PointAt(u.Tube, (p.S+pts[i-1].S)/2)) > 0.1+1e-9 {
				t.Fatalf("chord %d is farther than 0.1 mm from the glass", i)
			}
		}
	}
}
