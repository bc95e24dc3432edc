package look

import (
	_ "embed"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"

	"tubewright/pattern/shop/table"
)

// Light is the light of one colour of the table colours.
type Light struct {
	Colour        string
	X, Y          float64    // CIE 1931 chromaticity
	RGB           [3]float64 // linear sRGB, the greatest component 1
	Off           [3]float64 // linear sRGB of the glass when it is not lit
	Source, Grade string
}

//go:embed colours.csv
var colours string

// Lights returns the lights of the built-in colours, in the order of the table.
func Lights() []Light {
	rows, err := csv.NewReader(strings.NewReader(colours)).ReadAll()
	if err != nil {
		panic(err) // embedded: a test reads it
	}
	var out []Light
	for _, r := range rows[1:] {
		l := Light{Colour: r[0], X: number(r[1]), Y: number(r[2]), Source: r[3], Grade: r[4]}
		l.RGB = RGB(l.X, l.Y)
		out = append(out, l)
	}
	return out
}

func number(s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		panic(err) // embedded: a test reads it
	}
	return v
}

// Find returns the light of a row of the table colours. A row that a shop has
// added takes the light of the built-in row with the same gas, coating and glass,
// else that of its gas in clear glass; its Source says so.
func Find(tables table.Set, colour string) (Light, error) {
	t := tables.Table("colours")
	row, ok := t.Find(colour)
	if !ok {
		return Light{}, fmt.Errorf("unknown colour %q; write one of %s", colour, strings.Join(t.Keys(), ", "))
	}
	for _, like := range likeness() {
		for _, l := range Lights() {
			built, ok := table.Embedded().Table("colours").Find(l.Colour)
			if ok && like(row, built) {
				if l.Colour != colour {
					l.Source, l.Grade = "taken as "+l.Colour, "M-low"
				}
				l.Colour, l.Off = colour, off(row)
				return l, nil
			}
		}
	}
	l := Light{Colour: colour, X: whiteX, Y: whiteY, RGB: [3]float64{1, 1, 1}, Source: "unknown gas, taken as white", Grade: "M-low"}
	l.Off = off(row)
	return l, nil
}

// likeness lists how a row may match a built-in one, best first.
func likeness() []func(row, built table.Row) bool {
	same := func(columns ...string) func(a, b table.Row) bool {
		return func(a, b table.Row) bool {
			for _, c := range columns {
				if a.Text(c) != b.Text(c) {
					return false
				}
			}
			return true
		}
	}
	return []func(row, built table.Row) bool{
		same("colour", "gas", "tint", "coating"), same("gas", "tint", "coating"), same("gas", "coating"), same("gas"),
		func(a, b table.Row) bool {
			return a.Text("gas") == "neon-argon-mercury" && b.Text("gas") == "argon-mercury"
		},
	}
}

// off returns the tone of glass that is not lit, by the words of the column tint
// (C: chosen by eye, no measured figures).
func off(row table.Row) [3]float64 {
	for _, t := range []struct {
		word string
		rgb  [3]float64
	}{
		{"white", [3]float64{0.72, 0.72, 0.70}}, {"yellow", [3]float64{0.55, 0.40, 0.04}}, {"red", [3]float64{0.30, 0.02, 0.02}},
		{"orange", [3]float64{0.5, 0.18, 0.02}}, {"green", [3]float64{0.05, 0.28, 0.08}}, {"blue", [3]float64{0.04, 0.08, 0.35}},
	} {
		if strings.Contains(row.Text("tint"), t.word) {
			return t.rgb
		}
	}
	return [3]float64{0.30, 0.32, 0.32}
}

// The white point of sRGB, D65 (IEC 61966-2-1).
const whiteX, whiteY = 0.3127, 0.3290

// RGB returns the linear sRGB colour of a chromaticity, the greatest component 1.
// A colour outside what sRGB shows is mixed with white until it is inside, which
// keeps its hue in the sense of the straight line to white (IEC 61966-2-1 has the
// matrix).
func RGB(x, y float64) [3]float64 {
	big, z := x/y, (1-x-y)/y
	c := [3]float64{
		float64(3.2406*big) - 1.5372 - float64(0.4986*z),
		float64(-0.9689*big) + 1.8758 + float64(0.0415*z),
		float64(0.0557*big) - 0.2040 + float64(1.0570*z),
	}
	least := min(c[0], c[1], c[2])
	if least < 0 {
		for i := range c {
			c[i] -= least
		}
	}
	most := max(c[0], c[1], c[2])
	for i := range c {
		c[i] /= most
	}
	return c
}

// Chromaticity returns the CIE x, y of a linear sRGB colour, white for black.
func Chromaticity(c [3]float64) (x, y float64) {
	bx := float64(0.4124*c[0]) + float64(0.3576*c[1]) + float64(0.1805*c[2])
	by := float64(0.2126*c[0]) + float64(0.7152*c[1]) + float64(0.0722*c[2])
	bz := float64(0.0193*c[0]) + float64(0.1192*c[1]) + float64(0.9505*c[2])
	sum := bx + by + bz
	if sum <= 0 {
		return whiteX, whiteY
	}
	return bx / sum, by / sum
}

// Encoded puts one component of linear light, 0 to 1, into the curve of sRGB.
func Encoded(v float64) float64 {
	v = min(max(v, 0), 1)
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return 1.055*math.Pow(v, 1/2.4) - 0.055
}
