package sheet

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"
)

// Metrics of the Go fonts, in em: measured by TestMetricsAreTheFonts. The
// descent and ascent hold every glyph of the printed range.
const (
	capHeight = 0.7227
	ascent    = 0.80 // of letters in use; accented capitals reach 0.95
	descent   = 0.22
)

// MinSize is the least em in mm that a sheet may use: its capitals are 2.5 mm
// high.
const MinSize = 3.5

// Room is how much wider than in the Go fonts a text may come out: a reader of the
// SVG that has other faces and does not keep to textLength sets it up to this much
// wider (DejaVu Sans does, by 9 to 11 %). Boxes and line breaks allow for it.
const Room = 1.12

// CapHeight returns the height in mm of capitals set in an em of size mm.
func CapHeight(size float64) float64 { return capHeight * size }

// advances is a run of characters from First on with their advance widths in
// units of 1/2048 em; 0 stands for a character that the font lacks.
type advances struct {
	First rune
	Units []uint16
}

func lookup(table []advances, r rune) (uint16, bool) {
	i := sort.Search(len(table), func(i int) bool { return table[i].First > r }) - 1
	if i < 0 || int(r-table[i].First) >= len(table[i].Units) {
		return 0, false
	}
	u := table[i].Units[r-table[i].First]
	return u, u > 0
}

// IsWide reports whether a character is one of the Japanese face, which stands in
// for every font: one em wide.
func IsWide(r rune) bool { return r >= 0x2e80 && strings.ContainsRune(wide, r) }

func advance(r rune, f Font) (uint16, bool) {
	if IsWide(r) {
		return 2048, true
	}
	switch f {
	case Bold:
		return lookup(boldAdvances, r)
	case Mono:
		_, ok := lookup(regularAdvances, r)
		return monoAdvance, ok
	}
	return lookup(regularAdvances, r)
}

// Width returns the width in mm of one line of text in an em of size mm,
// without kerning. Characters that the fonts lack count as one em.
func Width(text string, size float64, f Font) float64 {
	n := 0
	for _, r := range text {
		if u, ok := advance(r, f); ok {
			n += int(u)
		} else {
			n += 2048
		}
	}
	return float64(n) / 2048 * size
}

// Printable returns text with every character that the label fonts lack
// written as its code point, as in [U+30AB], and with line ends and other
// control characters as spaces: what is on paper is then never a blank box.
func Printable(text string) string {
	var b strings.Builder
	for _, r := range text {
		_, regular := advance(r, Regular)
		_, bold := advance(r, Bold)
		switch {
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		case regular && bold:
			b.WriteRune(r)
		default:
			fmt.Fprintf(&b, "[U+%04X]", r)
		}
	}
	return b.String()
}

// Wrap breaks text at its spaces into lines that with their Room are no wider than
// width mm. A figure stays on a line with its unit, and R or D with their figure. A
// word that is itself wider than a line is broken between characters.
func Wrap(text string, size float64, f Font, width float64) []string {
	width /= Room
	var lines []string
	line := ""
	for _, word := range bound(strings.Fields(text)) {
		with := word
		if line != "" {
			with = line + " " + word
		}
		if Width(with, size, f) <= width {
			line = with
			continue
		}
		switch {
		case line != "" && strings.ContainsFunc(word, IsWide):
			line = with // script without spaces: broken where it meets the edge
		case line != "":
			lines = append(lines, line)
			line = word
		default:
			line = word
		}
		for Width(line, size, f) > width {
			n := breaking(line, fitting(line, size, f, width))
			lines = append(lines, strings.TrimRight(line[:n], " "))
			line = strings.TrimLeft(line[n:], " ")
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// bound joins the words that a line may not end between: "R 12 mm".
func bound(fields []string) []string {
	const units = " mm m in ° °C % kV V mA "
	var out []string
	joins := false // the word before is a sign that belongs to a figure
	for _, word := range fields {
		n := len(out)
		digit := word[0] >= '0' && word[0] <= '9'
		unit := n > 0 && strings.Contains(units, " "+strings.TrimRight(word, ".,;:)")+" ")
		switch {
		case n > 0 && joins && digit:
			out[n-1] += " " + word
		case unit && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789"):
			out[n-1] += " " + word
		default:
			out = append(out, word)
		}
		joins = word == "R" || word == "D" || word == "Ø"
	}
	return out
}

// fitting returns how many bytes of text fit into width, at least one character.
func fitting(text string, size float64, f Font, width float64) int {
	end := len(text)
	for i := range text {
		if i > 0 && Width(text[:i], size, f) > width {
			break
		}
		if i > 0 {
			end = i
		}
	}
	return end
}

// breaking returns a place to break a line at or before at: never before a closing
// sign, and in a run of wide characters not within a word of others.
func breaking(text string, at int) int {
	const never = "、。」』・ー)~:ァィゥェォッャュョぁぃぅぇぉっゃゅょ,.;:)]%"
	for n := at; n > 0; {
		before, size := utf8.DecodeLastRuneInString(text[:n])
		after, _ := utf8.DecodeRuneInString(text[n:])
		if !strings.ContainsRune(never, after) && (IsWide(before) || IsWide(after)) {
			return n
		}
		n -= size
	}
	return at
}
