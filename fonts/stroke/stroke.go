// Package stroke reads single-line vector letters in the .jhf format: letters
// drawn as pen strokes, which are centrelines as they stand.
//
// A .jhf file has one glyph a line:
//
//	12345  9MWOMOV RUMUV ROQUQ
//	└─┬─┘└┬┘││└──── points: two characters each, offsets from 'R', y down;
//	  │   │ │└right   " R" lifts the pen
//	  │   │ └left bearing
//	  │   └number of pairs, the bearings counted as one
//	  └glyph number in Hershey's catalogue
//
// (The line shown draws an H of 5 by 9 units.) Line k of a file is the
// character with code 32+k. In the files used here capitals are 21 units high,
// from y = -12 to the baseline at y = +9; this package turns y up and puts the
// baseline at 0 and the left bearing at x = 0.
//
// The strokes are the polylines of the data, point for point: the coordinates
// are coarse, so curves show as short chords. Fitting lines and arcs a tube can
// take is the business of the conditioning stage, not of this package.
package stroke

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"tubewright/geom"
)

// Measures of every set, in units; y up from the baseline.
const (
	UnitsPerEm = 32 // the height of Hershey's cell, from y = -16 to 16
	CapHeight  = 21
	Ascender   = 25
	Descender  = -7
)

const (
	baseline  = 9   // in the data, y down
	firstCode = ' ' // character of the first line
	lastCode  = '~' // last printing character; one more line may follow
	penUp     = " R"
	maxSize   = 1_000_000 // bytes
	maxLines  = 256
)

// Glyph is one letter, in units.
type Glyph struct {
	Number  int // in Hershey's catalogue; the same in every file of a set's family
	Advance int // from this letter's left bearing to the next one's
	Strokes []geom.Path
}

// Font is one set of letters. It never changes after Parse.
type Font struct {
	glyphs map[rune]Glyph
}

// Glyph returns the letter for a character, and whether the set has it.
func (f *Font) Glyph(r rune) (Glyph, bool) {
	g, ok := f.glyphs[r]
	return g, ok
}

// Parse reads the bytes of a .jhf file. Errors name the line.
//
// A character whose line draws nothing is missing, except the space. Glyphs
// that Hershey's catalogue numbers as Greek letters (527-550, 627-650) or as
// the degree sign (718) also stand for those characters.
func Parse(data []byte) (*Font, error) {
	if len(data) > maxSize {
		return nil, fmt.Errorf("single-line data of %d bytes: at most %d", len(data), maxSize)
	}
	lines := strings.Split(string(bytes.TrimRight(data, "\r\n")), "\n")
	if len(lines) < lastCode-firstCode+1 || len(lines) > maxLines {
		return nil, fmt.Errorf("single-line data of %d lines: need one for each character from space to ~", len(lines))
	}
	f := &Font{glyphs: map[rune]Glyph{}}
	for i, line := range lines {
		g, err := parseGlyph(strings.TrimSuffix(line, "\r"))
		if err != nil {
			return nil, fmt.Errorf("single-line data, line %d: %w", i+1, err)
		}
		code := rune(firstCode + i)
		if len(g.Strokes) == 0 && code != ' ' {
			continue
		}
		if code <= lastCode {
			f.glyphs[code] = g
		}
		if r, ok := catalogue(g.Number); ok {
			f.glyphs[r] = g
		}
	}
	return f, nil
}

// catalogue returns the character that a glyph number always stands for.
func catalogue(number int) (rune, bool) {
	const (
		degree      = 718
		firstUpper  = 527 // Alpha
		firstLower  = 627
		letters     = 24
		beforeSigma = 17 // letters before Σ and σ, where Unicode skips one code
	)
	greek := func(first, k int) rune {
		if k >= beforeSigma {
			k++
		}
		return rune(first + k)
	}
	switch {
	case number == degree:
		return '°', true
	case number >= firstUpper && number < firstUpper+letters:
		return greek('Α', number-firstUpper), true
	case number >= firstLower && number < firstLower+letters:
		return greek('α', number-firstLower), true
	}
	return 0, false
}

// parseGlyph reads one line of the file.
func parseGlyph(line string) (Glyph, error) {
	const header = 8 // five columns of number, three of count
	if len(line) < header+2 {
		return Glyph{}, fmt.Errorf("%d characters, need at least %d", len(line), header+2)
	}
	number, err := strconv.Atoi(strings.TrimSpace(line[:5]))
	if err != nil || number < 0 {
		return Glyph{}, fmt.Errorf("glyph number %q is not a number", line[:5])
	}
	pairs, err := strconv.Atoi(strings.TrimSpace(line[5:header]))
	body := line[header:]
	if err != nil || len(body) != 2*pairs {
		return Glyph{}, fmt.Errorf("%q pairs announced, %d characters follow", line[5:header], len(body))
	}
	left, right, err := pair(body)
	if err != nil {
		return Glyph{}, err
	}
	if right < left {
		return Glyph{}, fmt.Errorf("right bearing %d lies before left bearing %d", right, left)
	}
	g := Glyph{Number: number, Advance: right - left}
	var points []geom.Point
	for i := 2; i < len(body); i += 2 {
		if body[i:i+2] == penUp {
			g.Strokes = appendStroke(g.Strokes, points)
			points = points[:0]
			continue
		}
		x, y, err := pair(body[i:])
		if err != nil {
			return Glyph{}, err
		}
		points = append(points, geom.Point{X: float64(x - left), Y: float64(baseline - y)})
	}
	g.Strokes = appendStroke(g.Strokes, points)
	return g, nil
}

// appendStroke adds the polyline through the points. A point repeated on the
// spot adds nothing; a stroke that ends where it starts is closed.
func appendStroke(strokes []geom.Path, points []geom.Point) []geom.Path {
	var p geom.Path
	for i := 1; i < len(points); i++ {
		if points[i] != points[i-1] {
			p.Segments = append(p.Segments, geom.Line{A: points[i-1], B: points[i]})
		}
	}
	if len(p.Segments) == 0 {
		return strokes
	}
	p.Closed = len(p.Segments) > 2 && p.Start() == p.End()
	return append(strokes, p)
}

// pair reads two coordinates written as characters about 'R'.
func pair(s string) (x, y int, err error) {
	for _, c := range []byte(s[:2]) {
		if c < ' ' || c > '~' {
			return 0, 0, fmt.Errorf("byte 0x%02X is no coordinate", c)
		}
	}
	return int(s[0]) - 'R', int(s[1]) - 'R', nil
}
