package fonts

import (
	"cmp"
	"fmt"
	"strings"

	"tubewright/fonts/nearest"
)

// MissingCharacter is the error for text that a face cannot write.
type MissingCharacter struct {
	Rune  rune
	Index int    // place in the text, counted in characters from 0
	Face  string // name of the face
	Also  []rune // further characters of the text that the face lacks, in order
}

// Error names the character, its code, its place counted from 1, and the face.
func (e *MissingCharacter) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "face %q has no character %s, character %d of the text", e.Face, runeName(e.Rune), e.Index+1)
	const shown = 10
	for i, r := range e.Also {
		switch {
		case i == shown:
			fmt.Fprintf(&b, " and %d more", len(e.Also)-shown)
		case i == 0:
			b.WriteString("; it also lacks " + runeName(r))
		case i < shown:
			b.WriteString(", " + runeName(r))
		}
	}
	b.WriteString("; choose another face or other words")
	return b.String()
}

// runeName writes a character with its code, as "'Ж' (U+0416)".
func runeName(r rune) string { return fmt.Sprintf("%q (%U)", r, r) }

// UnknownFace is the error for a name that no face inside the program has.
type UnknownFace struct {
	Name    string
	Nearest string   // the closest name, or "" if none is close
	All     []string // every name, in the order of Builtin
}

// Error offers the nearest name and lists all of them.
func (e *UnknownFace) Error() string {
	hint := ""
	if e.Nearest != "" {
		hint = fmt.Sprintf("; did you mean %q?", e.Nearest)
	}
	return fmt.Sprintf("no face called %q%s The faces inside the program are: %s. For a font of your own, give the path of its TTF, OTF or WOFF2 file.",
		e.Name, cmp.Or(hint, "."), strings.Join(e.All, ", "))
}

// unknownFace builds the error for name, whose normal form is key. A name is
// near if at most a third of it has to change, or if one holds the other.
func unknownFace(name, key string, all []Info) *UnknownFace {
	e := &UnknownFace{Name: name}
	best := len(key)/3 + 1
	for _, i := range all {
		e.All = append(e.All, i.Name)
		d := nearest.Changes(key, i.Name)
		if len(key) >= 3 && (strings.Contains(i.Name, key) || strings.Contains(key, i.Name)) {
			d = 1
		}
		if d < best {
			best, e.Nearest = d, i.Name
		}
	}
	return e
}
