package finding

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tubewright/geom"
)

// Severity orders findings: a Note informs, a Warning asks for a look, an
// Error says that the glass cannot be bent as drawn.
type Severity int

const (
	Note Severity = iota
	Warning
	Error
)

func (s Severity) String() string { return [...]string{"note", "warning", "error"}[s] }

// Finding is one broken rule with its place. Empty fields are not known or do
// not apply. Got and Want are mm and are said only where Want is not 0.
type Finding struct {
	Code     string // short, stable, for programs: "too-tight"
	Severity Severity
	Letter   string // the letter or letters, as typed
	Index    int    // index of the letter in the text, from 0
	Unit     string // "U1"
	Stroke   string // "s1"
	Sheet    string // the shop's sheet it stands on, "loading"; it has then no place on the glass
	File     string // the file it is about, "bender.pdf"; it has then no place on the glass
	At       geom.Point3
	Got      float64
	Want     float64
	What     string // what is wrong, in words, without place or numbers
	Remedy   string
}

// Message says all but the remedy in one line:
// letter "S" stroke s2 at (61.0, 42.5): the bend is tighter than the glass allows: 8.1 mm, limit 9.0 mm
func (f Finding) Message() string {
	var place []string
	if f.Letter != "" {
		place = append(place, fmt.Sprintf("letter %q", f.Letter))
	}
	if f.Stroke != "" {
		place = append(place, "stroke "+f.Stroke)
	}
	if f.Unit != "" {
		place = append(place, "unit "+f.Unit)
	}
	switch {
	case f.File != "":
		place = append([]string{f.File}, place...)
	case f.Sheet != "":
		place = append([]string{"shop sheet " + f.Sheet}, place...)
	default:
		place = append(place, fmt.Sprintf("at (%s, %s)", geom.FormatNumber(f.At.X, 1), geom.FormatNumber(f.At.Y, 1)))
	}
	s := strings.Join(place, " ") + ": " + f.What
	if f.Want != 0 {
		s += fmt.Sprintf(": %s mm, limit %s mm", geom.FormatNumber(f.Got, 1), geom.FormatNumber(f.Want, 1))
	}
	return s
}

// Sort orders findings worst first, then as the bender meets them.
func Sort(fs []Finding) {
	slices.SortStableFunc(fs, func(a, b Finding) int {
		return cmp.Or(
			cmp.Compare(b.Severity, a.Severity),
			cmp.Compare(a.Index, b.Index),
			cmp.Compare(a.Stroke, b.Stroke),
			cmp.Compare(a.Code, b.Code),
			cmp.Compare(a.At.X, b.At.X),
			cmp.Compare(a.At.Y, b.At.Y),
		)
	})
}

// Worst returns the highest severity, and false where there are no findings.
func Worst(fs []Finding) (Severity, bool) {
	w, any := Note, len(fs) > 0
	for _, f := range fs {
		w = max(w, f.Severity)
	}
	return w, any
}
