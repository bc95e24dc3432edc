package grade

import (
	"fmt"
	"unicode"
	"unicode/utf8"

	"tubewright/geom"
)

// StrokeWords says of what kind the strokes are, and how wide.
func (g Grade) StrokeWords() string {
	if g.Style == Single || g.Style == Unknown {
		return capital(g.Style.String()) + "."
	}
	return fmt.Sprintf("%s: %s mm wide, the thick %s times the thin.", capital(g.Style.String()),
		geom.FormatNumber(g.Widths.Typical*g.Spec.Cap, 1), geom.FormatNumber(g.Widths.Contrast(), 2))
}

// RoomWords says from which height on the tube has room.
func (g Grade) RoomWords() string {
	none := 0
	for _, l := range g.Letters {
		if l.Room.Height == 0 {
			none++
		}
	}
	switch {
	case none == len(g.Letters):
		return "No height was found at which the tube has room."
	case none > 0:
		return fmt.Sprintf("Room in every letter but %d from %s on, in nine of ten of these from %s.", none, mm(g.Least), mm(g.LeastMost))
	}
	return fmt.Sprintf("Room in every letter from %s on, in nine of ten from %s.", mm(g.Least), mm(g.LeastMost))
}

// capital begins a sentence.
func capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}
