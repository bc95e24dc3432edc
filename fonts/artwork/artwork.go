package artwork

import (
	"fmt"
	"strings"

	"tubewright/geom"
)

// The most of each that a file may hold. Lettering takes hundreds; the bounds
// keep damaged or hostile files from eating the machine.
const (
	MaxFile   = 32 << 20            // bytes
	maxNodes  = 200_000             // elements, those shown again by references counted again
	maxRead   = MaxFile + MaxFile/4 // bytes of attributes, likewise
	maxDepth  = 200                 // groups within groups
	maxCurves = 200_000
	maxShapes = 20_000
	maxCoord  = 1e7 // user units, either way
)

// Drawing is what a file shows.
type Drawing struct {
	Shapes  []Shape     // in the order they are painted
	Unit    geom.Length // length of a user unit; 0 where the file does not say
	Remarks []Remark    // on what is not among the shapes as the file shows it
}

// Shape is one filled element. Its outline follows the rule of geom.Outline,
// whatever rule the file's own fill had.
type Shape struct {
	ID      string // of the element, or of the nearest group that has one
	Outline geom.Outline

	from   *node
	isRect bool // a plain rectangle: it may be the page's background
}

// Remark is something that was not taken as it stands, with its place in the
// file. It is an error where nothing could be made of the file at all.
type Remark struct {
	File    string
	Line    int    // from 1; 0 for the file as a whole
	Element string // its name, as "text"
	ID      string
	What    string
	Remedy  string
	Differs bool // the outlines are not what the file shows
}

// Message says all but the remedy in one line:
// logo.svg:12: <text id="name">: text has no outline of its own
func (r Remark) Message() string {
	var b strings.Builder
	b.WriteString(r.File)
	if r.Line > 0 {
		fmt.Fprintf(&b, ":%d", r.Line)
	}
	if r.Element != "" {
		b.WriteString(": <" + clip(r.Element))
		if r.ID != "" {
			fmt.Fprintf(&b, " id=%q", clip(r.ID))
		}
		b.WriteByte('>')
	}
	return b.String() + ": " + r.What
}

// Error says all in one line.
func (r *Remark) Error() string {
	if r.Remedy == "" {
		return r.Message()
	}
	return r.Message() + "; " + r.Remedy
}

// clip shortens what a file says for a message of one line.
func clip(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}

// Parse reads an SVG file; name is what errors call it. An error is a *Remark.
func Parse(data []byte, name string) (Drawing, error) {
	root, err := readTree(data, name)
	if err != nil {
		return Drawing{}, err
	}
	w := &walker{file: name, root: root, styles: styleSheets(root), byID: map[string]*node{}}
	w.remarks = w.styles.unread
	w.index(root)
	if w.view, err = viewportOf(root); err != nil {
		return Drawing{}, w.fault(root, err.Error(), "save the drawing again as plain SVG")
	}
	if err := w.walk(root, firstLook(), geom.Affine{XX: 1, YY: -1}, 0); err != nil {
		return Drawing{}, err
	}
	return w.drawing()
}
