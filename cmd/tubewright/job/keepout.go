package job

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"tubewright/geom"

	"github.com/pelletier/go-toml/v2"
)

// KeepOut is a place behind the sign where no electrode may stand: a stud, a
// seam, the edge of a raceway. It is a rectangle (Width and Height from its
// lower left corner), a circle (Radius about its centre) or a line through
// Points; At is the corner or centre. Front frame, mm: x from the left of the
// lettering, y from the baseline of the last line.
type KeepOut struct {
	Name          string
	At            [2]geom.Length
	Width, Height geom.Length
	Radius        geom.Length
	Points        [][2]geom.Length
	Gap           geom.Length // kept clear around it, beyond the clearance of the glass
}

// farthest is how far from the sign a keep-out may lie.
const farthest = 100 * geom.Metre

// maxPoints is the most points of one line.
const maxPoints = 1000

// setKeepOuts reads the tables [[keep-out]].
func (j *Job) setKeepOuts(rows []Row) Errors {
	var wrong Errors
	for _, r := range rows {
		e := &entries{table: keepOutTable, row: r}
		k := KeepOut{
			Name: e.text("name"),
			At:   [2]geom.Length{e.length("x", true), e.length("y", true)}, Width: e.length("width", false), Height: e.length("height", false),
			Radius: e.length("radius", false), Points: e.points("points"), Gap: e.length("gap", false),
		}
		e.unknown()
		if len(e.wrong) == 0 && k.shapes() != 1 {
			e.fault("", "a keep-out must be one shape", `write x, y, width and height for a rectangle, x, y and radius for a circle, or points = ["0mm 0mm", "600mm 0mm"] for a line`)
		}
		wrong = append(wrong, e.wrong...)
		j.KeepOuts = append(j.KeepOuts, k)
	}
	return wrong
}

// shapes counts what the table describes; what is half said counts as none.
func (k KeepOut) shapes() int {
	n := 0
	if k.Width > 0 && k.Height > 0 {
		n++
	} else if k.Width != 0 || k.Height != 0 {
		return 0
	}
	if k.Radius > 0 {
		n++
	}
	if len(k.Points) > 0 {
		if k.At != [2]geom.Length{} {
			return 0
		}
		n++
	}
	return n
}

func unprintable(r rune) bool { return r == utf8.RuneError || unicode.IsControl(r) }

func (e *entries) text(key string) string {
	v, ok := e.cell(key)
	if !ok {
		return ""
	}
	s, ok := v.(string)
	if !ok || strings.ContainsFunc(s, unprintable) || len(s) > maxName {
		e.fault(key, fmt.Sprintf("%s is %s", key, describe(v)), "write a short name in quotes")
		return ""
	}
	return strings.TrimSpace(s)
}

// length reads a length, with a sign where it is a place.
func (e *entries) length(key string, signed bool) geom.Length {
	v, ok := e.cell(key)
	if !ok {
		return 0
	}
	s, ok := v.(string)
	if !ok {
		e.fault(key, fmt.Sprintf("%s is %s", key, describe(v)), fmt.Sprintf(`write a length in quotes, as in %s = "40mm"`, key))
		return 0
	}
	n, err := readPlace(s, signed)
	if err != nil {
		e.fault(key, fmt.Sprintf("%s: %v", key, err), "")
	}
	return n
}

// readPlace reads a length to the nanometre, as setLength does.
func readPlace(s string, signed bool) (geom.Length, error) {
	sign := geom.Length(1)
	text := strings.TrimSpace(s)
	if signed && strings.HasPrefix(text, "-") {
		sign, text = -1, text[1:]
	}
	n, err := geom.ParseLength(text)
	if err != nil {
		return 0, err
	}
	if !(n <= farthest) {
		return 0, fmt.Errorf("%s is over %s from the sign", s, farthest)
	}
	if n = geom.Length(math.Round(float64(n)*1e6) / 1e6); n == 0 {
		return 0, nil
	}
	return sign * n, nil
}

// setLargest reads the width and height of the largest unit.
func (j *Job) setLargest(word string) *Error {
	if word == noLimit {
		return nil
	}
	parts := strings.Split(strings.ToLower(word), "x")
	e := &Error{Message: fmt.Sprintf("largest-unit %q", clip(word)), Remedy: `write its width and height, as in largest-unit = "1200mm x 800mm"`}
	if len(parts) != 2 {
		return e
	}
	var size [2]geom.Length
	for i, p := range parts {
		n, err := readPlace(p, false)
		if err != nil || n < leastBox {
			return e
		}
		size[i] = n
	}
	j.LargestUnit = size
	return nil
}

// leastBox is the least width or height of a unit that can be asked for.
const leastBox = 50 * geom.Millimetre

// points reads places written "x y".
func (e *entries) points(key string) [][2]geom.Length {
	const example = `points = ["0mm 0mm", "600mm 0mm"]`
	list := e.words(key, example)
	if len(list) == 1 || len(list) > maxPoints {
		e.fault(key, fmt.Sprintf("a line of %d points", len(list)), fmt.Sprintf("write from 2 to %d points, as in %s", maxPoints, example))
		return nil
	}
	var out [][2]geom.Length
	for _, s := range list {
		parts := strings.Fields(s)
		if len(parts) != 2 {
			e.fault(key, fmt.Sprintf("the point %q", clip(s)), "write x and y with their units, as in "+example)
			return nil
		}
		var p [2]geom.Length
		for i := range p {
			n, err := readPlace(parts[i], true)
			if err != nil {
				e.fault(key, fmt.Sprintf("the point %q: %v", clip(s), err), "write x and y with their units, as in "+example)
				return nil
			}
			p[i] = n
		}
		out = append(out, p)
	}
	return out
}

// writeKeepOuts writes the tables, or what they could say.
func writeKeepOuts(b *strings.Builder, list []KeepOut) {
	b.WriteString(`
# Where no electrode may stand: a stud, a seam, the edge of a raceway. Places from the left
# of the lettering and from the baseline of the last line, front view. A rectangle,
# a circle (x, y, radius) or a line (points).
# [[keep-out]]
# name = "stud"
# x = "300mm"               # of the lower left corner, or of the centre of a circle
# y = "-50mm"
# width = "40mm"
# height = "600mm"
# gap = "6mm"               # kept clear around it
# [[keep-out]]
# name = "seam"
# points = ["0mm 75mm", "900mm 75mm"]
`)
	for _, k := range list {
		b.WriteString("\n[[keep-out]]\n")
		writeWord(b, "name", k.Name)
		for _, f := range []struct {
			key string
			v   geom.Length
		}{{"x", k.At[0]}, {"y", k.At[1]}, {"width", k.Width}, {"height", k.Height}, {"radius", k.Radius}, {"gap", k.Gap}} {
			if f.v != 0 {
				writeWord(b, f.key, exact(f.v))
			}
		}
		var points []string
		for _, p := range k.Points {
			points = append(points, exact(p[0])+" "+exact(p[1]))
		}
		writeWords(b, "points", points)
	}
}

// quoted writes a text as TOML does.
func quoted(s string) string {
	line, err := toml.Marshal(map[string]string{"k": s})
	if err != nil {
		panic(err) // a string always encodes
	}
	return strings.TrimSpace(strings.TrimPrefix(string(line), "k = "))
}
