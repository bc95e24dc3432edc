package grade

import (
	"fmt"
	"unicode"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
)

// A face of each manner that suits tube well: it is named where another does
// not.
const (
	EvenFace   = "comfortaa-light"
	EvenScript = "playwrite-de-la-thin"
	EvenArabic = "noto-kufi-arabic-extralight"
)

// evenFaces names faces inside the program that could write the letters instead.
func evenFaces(letters []Letter) string {
	for _, l := range letters {
		for _, r := range l.Text {
			if unicode.Is(unicode.Arabic, r) {
				return "a face of even strokes, as " + EvenArabic
			}
		}
	}
	return fmt.Sprintf("a face of even strokes, as %s or the script %s (tubewright fonts lists them)", EvenFace, EvenScript)
}

// Advice says why a face does not suit one line of tube, and what would serve
// for the letters. Both are "" for one that does. The capitals of the face are
// height mm high.
func Advice(letters []Letter, s Style, w Widths, r glass.Rules, height float64) (why, serve string) {
	even := evenFaces(letters)
	wide := w.Typical * height
	switch s {
	case Heavy:
		why = fmt.Sprintf("the face is too heavy for one line: its strokes are %s wide, the tube %s, so that the line in their middle does not show the letters' form",
			mm(wide), geom.Length(r.Diameter))
		if need := r.Diameter + r.Need(); wide < need {
			return why, fmt.Sprintf("take a lighter weight of it, or %s; or bend the edges of each stroke as two runs, for which it must be %s wide: letters from %s high",
				even, mm(need), mm(need/w.Typical))
		}
		return why, fmt.Sprintf("take a lighter weight of it, or %s; or bend the edges of each stroke as two runs, for which there is room at this height", even)
	case Uneven:
		return fmt.Sprintf("the face is thick and thin: the thick strokes are %s times as wide as the thin, and one width of tube cannot show that", geom.FormatNumber(w.Contrast(), 1)),
			"take " + even + "; or paint the thick strokes behind the glass"
	case Outlined:
		return "the face draws the edges of its strokes, not the strokes: the tube would run twice round every letter",
			fmt.Sprintf("take the plain face of the family; or, if rings of glass are meant, choose the height so that edges stand %s apart", mm(r.Need()))
	case Inline:
		return "the face has light lines within its strokes: the tube would follow the ink on both sides of each",
			"take the face without the inline, or, where the light line is meant to be the tube, " + even
	}
	return "", ""
}

// code is that of the finding about a face of the style.
func (s Style) code() string {
	switch s {
	case Heavy:
		return "face-heavy"
	case Uneven:
		return "face-uneven"
	case Outlined:
		return "face-outline"
	case Inline:
		return "face-inline"
	}
	return ""
}

// Findings says what of the face of a text does not suit one line of tube: one
// finding for the whole text, at its first letter.
func Findings(letters []Letter, r glass.Rules, height float64) []finding.Finding {
	w := MeasureWidths(letters, height)
	style := StyleOf(letters, w, height)
	why, serve := Advice(letters, style, w, r, height)
	if why == "" {
		return nil
	}
	f := finding.Finding{Code: style.code(), Severity: finding.Warning, What: why, Remedy: serve}
	for _, l := range letters {
		if len(l.Trace.Strokes) > 0 {
			f.Letter, f.Index, f.At = l.Text, l.Index, l.Trace.Strokes[0].Path.Start().At(0)
			break
		}
	}
	return []finding.Finding{f}
}

// IsOfFace reports whether a finding is one of Findings.
func IsOfFace(f finding.Finding) bool {
	for s := Unknown; s <= Outlined; s++ {
		if s.code() != "" && f.Code == s.code() {
			return true
		}
	}
	return false
}
