package words

import (
	"strconv"
	"strings"

	"tubewright/geom"
)

// decimal is the key of the sign between the whole of a figure and its parts.
const decimal = "decimal"

// Number writes a figure with at most so many decimals, as the language does. Files
// that programs read do not use it: they have a point in every language.
func (w Words) Number(v float64, decimals int) string {
	return w.figure(geom.FormatNumber(v, decimals))
}

// Fixed writes a figure with just so many decimals, as the columns of a table want it.
func (w Words) Fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if !strings.ContainsAny(s, "123456789") {
		s = strings.TrimPrefix(s, "-")
	}
	return w.figure(s)
}

// figure returns what is wholly one figure with a point as the language writes it, and
// any other text as it is.
func (w Words) figure(s string) string {
	if _, err := strconv.ParseFloat(s, 64); err != nil || !strings.Contains(s, ".") {
		return s
	}
	return strings.Replace(s, ".", w.Say(decimal), 1)
}
