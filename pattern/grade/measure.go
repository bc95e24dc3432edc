package grade

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"tubewright/geom"
	"tubewright/geom/trace"
)

// Letter is one letter, or several whose ink touches, with its centrelines.
type Letter struct {
	Text    string
	Index   int // of its first character in the text
	Outline geom.Outline
	Trace   trace.Result // mm; its strokes have no widths in a single-line face
}

// Widths are the widths of the strokes of a face as shares of the height of
// its capitals: under Thin a tenth of their length is, under Typical a half,
// under Thick nine tenths. All are 0 where nothing has a width.
type Widths struct{ Thin, Typical, Thick float64 }

// Contrast is how many times wider the thick is than the thin; 1 for a pen of
// one width.
func (w Widths) Contrast() float64 {
	if w.Thin <= 0 {
		return 1
	}
	return w.Thick / w.Thin
}

// stretch is a length of stroke of one width.
type stretch struct{ width, length float64 }

// MeasureWidths measures letters whose capitals are cap mm high. Dots do not
// count: they are as wide as they are long.
func MeasureWidths(letters []Letter, cap float64) Widths {
	var all []stretch
	total := 0.0
	for _, l := range letters {
		for _, s := range l.Trace.Strokes {
			if s.Dot {
				continue
			}
			for i := 1; i < len(s.Widths); i++ {
				a, b := s.Widths[i-1], s.Widths[i]
				if n := b.At - a.At; n > 0 {
					all = append(all, stretch{a.Radius + b.Radius, n})
					total += n
				}
			}
		}
	}
	if total == 0 {
		return Widths{}
	}
	slices.SortFunc(all, func(a, b stretch) int { return cmp.Or(cmp.Compare(a.width, b.width), cmp.Compare(a.length, b.length)) })
	at := func(share float64) float64 {
		sum := 0.0
		for _, s := range all {
			if sum += s.length; sum >= share*total {
				return s.width / cap
			}
		}
		return all[len(all)-1].width / cap
	}
	return Widths{at(0.1), at(0.5), at(0.9)}
}

// countersOf returns how many closed counters a plain drawing of the letters
// has at most, and false where a letter is not known.
func countersOf(text string) (int, bool) {
	n := 0
	for _, r := range text {
		switch {
		case r == 'B' || r == '8' || r == 'g' || r == '&' || r == '%':
			n += 2
		case strings.ContainsRune("ADOPQRabdeopq0469@", r):
			n++
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
		default:
			return 0, false
		}
	}
	return n, true
}
