package paper

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// Size is a size of paper, upright, mm.
type Size struct {
	Name          string
	Width, Height float64
}

// Sizes lists the named sizes: ISO 216 and ANSI Y14.1.
func Sizes() []Size {
	return []Size{{"A4", 210, 297}, {"Letter", 215.9, 279.4}, {"A3", 297, 420}, {"Tabloid", 279.4, 431.8}}
}

// The range of a side of paper, mm: from a page that holds both rulers to the
// longest page that readers keep to scale.
const (
	minSide = 150.0
	maxSide = 5000.0
)

// ParseSize reads "A4", "letter" or two lengths as in "300mm x 450mm".
func ParseSize(text string) (Size, error) {
	word := strings.TrimSpace(text)
	var names []string
	for _, s := range Sizes() {
		if strings.EqualFold(word, s.Name) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	a, b, ok := strings.Cut(strings.ToLower(word), "x")
	if !ok {
		return Size{}, fmt.Errorf("paper %q: write %s, or two lengths as in 300mm x 450mm", text, strings.Join(names, ", "))
	}
	w, err := geom.ParseLength(strings.TrimSpace(a))
	if err != nil {
		return Size{}, fmt.Errorf("paper %q: %w", text, err)
	}
	h, err := geom.ParseLength(strings.TrimSpace(b))
	if err != nil {
		return Size{}, fmt.Errorf("paper %q: %w", text, err)
	}
	s := Size{Name: geom.FormatNumber(float64(w), 1) + " × " + geom.FormatNumber(float64(h), 1) + " mm", Width: float64(w), Height: float64(h)}
	for _, side := range [2]float64{s.Width, s.Height} {
		if !(side >= minSide && side <= maxSide) {
			return Size{}, fmt.Errorf("paper %q: a side of %g mm; sides from %g to %g mm are served", text, side, minSide, maxSide)
		}
	}
	return s, nil
}

// Turned returns the size lying.
func (s Size) Turned() Size { return Size{s.Name, s.Height, s.Width} }

// Readings are what the bars of 100 mm measured on a print, across and up, mm; 0
// for not measured.
type Readings struct{ X, Y float64 }

// How far a reading may be from 100 mm to be a printer's fault that is made up for.
const mostFault = 5.0

// ParseReading reads a reading of a bar of 100 mm; "" is none.
func ParseReading(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	l, err := geom.ParseLength(text)
	if err != nil {
		return 0, err
	}
	v := float64(l)
	if !(math.Abs(v-100) <= mostFault) {
		return 0, fmt.Errorf("a bar of 100 mm that measures %s mm: over %g mm off is no stretch of a printer but a print that was scaled, as by 'fit to page'; print again at 100 %%, 'actual size', and measure that",
			geom.FormatNumber(v, 2), mostFault)
	}
	return v, nil
}

// Stretch returns the factors that make the next print right.
func (r Readings) Stretch() sheet.Stretch {
	var s sheet.Stretch
	if r.X != 0 {
		s.X = 100 / r.X
	}
	if r.Y != 0 {
		s.Y = 100 / r.Y
	}
	return s
}
