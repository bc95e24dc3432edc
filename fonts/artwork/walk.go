package artwork

import (
	"fmt"
	"math"
	"strings"

	"tubewright/geom"
)

// walker goes through the elements in the order they are painted.
type walker struct {
	file    string
	root    *node
	styles  sheets
	byID    map[string]*node // looked up, never ranged over
	view    viewport
	shapes  []Shape
	remarks []Remark
	visits  int
	read    int // bytes of attributes
	curves  int
	clips   map[*node]bool // remarked on already
	whites  int            // shapes as white as the paper
}

func (w *walker) index(n *node) {
	if _, taken := w.byID[n.id]; n.id != "" && !taken {
		w.byID[n.id] = n
	}
	for _, k := range n.kids {
		w.index(k)
	}
}

func (w *walker) fault(n *node, what, remedy string) error {
	return &Remark{File: w.file, Line: n.line, Element: n.name, ID: n.id, What: what, Remedy: remedy}
}

// remark notes what is not taken as it stands.
func (w *walker) remark(n *node, l look, differs bool, what, remedy string) {
	w.remarks = append(w.remarks, Remark{Line: n.line, Element: n.name, ID: l.id, What: what, Remedy: remedy, Differs: differs})
}

// walk takes up an element and those in it; m leads from its parent's units to
// the drawing's.
func (w *walker) walk(n *node, up look, m geom.Affine, depth int) error {
	w.visits++
	w.read += n.size
	if w.visits > maxNodes || w.read > maxRead || depth > maxDepth {
		return w.fault(n, "the drawing refers to its own parts too often", "expand the references (clones, symbols) in the drawing program")
	}
	if isBackstage(n.name) {
		return nil
	}
	l := w.styles.of(n, up)
	if w.styles.work >= maxWork {
		return w.fault(n, "the style sheets of the file have too many rules", "save with presentation attributes instead of a style sheet")
	}
	if l.gone {
		return nil
	}
	if l.moved {
		return w.fault(n, "its transform stands in a style, where it is not read", "write it as the attribute transform, or apply it in the drawing program")
	}
	t, err := parseTransform(n.get("transform"))
	if err != nil {
		return w.fault(n, err.Error(), "write it as matrix(a b c d e f), or apply the transform in the drawing program")
	}
	m = then(m, t)
	switch n.name {
	case "svg", "symbol":
		if n != w.root {
			inner, err := innerView(n)
			if err != nil {
				return w.fault(n, err.Error(), "ungroup the inner drawing")
			}
			m = then(m, inner)
		}
		return w.walkAll(n.kids, l, m, depth)
	case "g", "a", "switch":
		return w.walkAll(n.kids, l, m, depth)
	case "use":
		return w.walkReference(n, l, m, depth)
	case "path", "polygon", "polyline", "rect", "circle", "ellipse":
		return w.shape(n, l, m)
	}
	if l.visibility == "visible" {
		w.leaveOut(n, l)
	}
	return nil
}

func (w *walker) walkAll(kids []*node, l look, m geom.Affine, depth int) error {
	for _, k := range kids {
		if k.name == "symbol" {
			continue // seen only where it is referred to
		}
		if err := w.walk(k, l, m, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// isBackstage reports whether an element draws nothing where it stands.
func isBackstage(name string) bool {
	switch name {
	case "defs", "clipPath", "mask", "marker", "pattern", "linearGradient", "radialGradient", "filter", "metadata",
		"title", "desc", "style", "script", "view", "cursor", "animate", "animateTransform", "animateMotion", "set", "font", "font-face", "color-profile":
		return true
	}
	return false
}

// leaveOut says why an element that is seen is not ink, and what to do.
func (w *walker) leaveOut(n *node, l look) {
	switch n.name {
	case "text":
		w.remark(n, l, true, "text has no outline of its own and is left out", "turn it to paths in the drawing program, or trace it with --text and --font")
	case "image":
		w.remark(n, l, true, "a picture made of dots is left out", "trace it to filled paths in the drawing program")
	case "line":
		w.remark(n, l, true, "a line has no area and is left out", "turn its stroke into a filled path")
	case "foreignObject":
		if len(n.kids) > 0 || n.get("requiredExtensions") == "" {
			w.remark(n, l, true, "content that is not SVG is left out", "turn it to paths in the drawing program")
		}
	default:
		w.remark(n, l, true, "the element is not known and is left out", "turn it to paths in the drawing program")
	}
}

// walkReference takes up what a use element shows.
func (w *walker) walkReference(n *node, l look, m geom.Affine, depth int) error {
	target, ok := w.byID[strings.TrimPrefix(n.get("href"), "#")]
	if !ok {
		w.remark(n, l, true, fmt.Sprintf("it refers to %q, which is not in the file, and is left out", clip(n.get("href"))), "put the part into the file")
		return nil
	}
	v, err := lengths(n, "x", "y")
	if err != nil {
		return w.fault(n, err.Error(), "write the place in user units")
	}
	return w.walk(target, l, then(m, moving(v[0], v[1])), depth+1)
}

// innerView returns the map of a drawing within the drawing.
func innerView(n *node) (geom.Affine, error) {
	v, err := lengths(n, "x", "y")
	if err != nil {
		return geom.Affine{}, err
	}
	box, err := numbers(n.get("viewBox"))
	if err != nil || len(box) != 4 || n.name == "symbol" && n.get("width") == "" {
		return moving(v[0], v[1]), err
	}
	size, err := lengths(n, "width", "height")
	if err != nil {
		return geom.Affine{}, err
	}
	if !(size[0] > 0 && size[1] > 0 && box[2] > 0 && box[3] > 0) {
		return geom.Affine{}, fmt.Errorf("the inner drawing has no width and height in user units")
	}
	k := min(size[0]/box[2], size[1]/box[3])
	x := v[0] + (size[0]-k*box[2])/2 - k*box[0]
	y := v[1] + (size[1]-k*box[3])/2 - k*box[1]
	return geom.Affine{XX: k, YY: k, X0: x, Y0: y}, nil
}

// shape takes up one filled element.
func (w *walker) shape(n *node, l look, m geom.Affine) error {
	if l.visibility != "visible" {
		return nil
	}
	if !isPaint(l.fill) || l.fillOpacity == 0 {
		if isPaint(l.stroke) {
			w.remark(n, l, true, "it has a stroke but no fill, so no area, and is left out", "turn its stroke into a filled path")
		}
		return nil
	}
	o, err := outlineOf(n)
	if err != nil {
		return w.fault(n, err.Error(), "save the drawing again as plain SVG, or redraw this element")
	}
	o = withCurves(o.Transform(m))
	if len(o) == 0 {
		return nil
	}
	box := o.ControlBox()
	if far := max(-box.Min.X, -box.Min.Y, box.Max.X, box.Max.Y); !(far <= maxCoord) || math.IsNaN(box.Width()+box.Height()) {
		return w.fault(n, fmt.Sprintf("it reaches %g units from the origin, at most %g are read", far, float64(maxCoord)), "move or scale the drawing")
	}
	for _, c := range o {
		w.curves += len(c.Curves)
	}
	if w.curves > maxCurves || len(w.shapes) >= maxShapes {
		return w.fault(n, fmt.Sprintf("by here the drawing has more than %d curves or %d shapes", maxCurves, maxShapes), "simplify the paths, or make several files of it")
	}
	if isWhite(l.fill) {
		w.whites++
		w.overInk(n, l, box)
		return nil
	}
	if l.fillRule == "evenodd" {
		if o, err = byParity(o); err != nil {
			return w.fault(n, err.Error(), "unite the paths in the drawing program, or set the fill rule to nonzero")
		}
	}
	if strings.HasPrefix(l.fill, "url(") {
		w.remark(n, l, false, "its gradient or pattern is taken as plain ink", "")
	}
	w.remarkClip(n, l)
	w.shapes = append(w.shapes, Shape{ID: l.id, Outline: o, from: n, isRect: n.name == "rect"})
	return nil
}

// withCurves drops contours of a single point.
func withCurves(o geom.Outline) geom.Outline {
	var out geom.Outline
	for _, c := range o {
		if len(c.Curves) > 0 {
			out = append(out, c)
		}
	}
	return out
}

// overInk remarks on a white shape that lies over ink: it hides some, which an
// outline cannot know.
func (w *walker) overInk(n *node, l look, box geom.Rect) {
	for i := range w.shapes {
		if w.shapes[i].Outline.ControlBox().Overlaps(box) {
			w.remark(n, l, true, "a white shape lies over ink, which is not cut away", "subtract it from what lies below (path difference); if the white is the lettering, fill it black and take the ground away")
			return
		}
	}
}

func (w *walker) remarkClip(n *node, l look) {
	if l.clipped == nil || w.clips[l.clipped] {
		return
	}
	if w.clips == nil {
		w.clips = map[*node]bool{}
	}
	w.clips[l.clipped] = true
	w.remark(l.clipped, l, true, "its clip path or mask is not followed: what it hides is taken as ink", "apply the clip path (intersect the paths) in the drawing program")
}

// drawing puts together what was found.
func (w *walker) drawing() (Drawing, error) {
	d := Drawing{Unit: w.view.unit, Shapes: w.withoutGround()}
	for _, r := range w.remarks {
		r.File = w.file
		d.Remarks = append(d.Remarks, r)
	}
	if len(d.Shapes) > 0 {
		return d, nil
	}
	none := &Remark{File: w.file, What: "there is no filled outline in the drawing", Remedy: "turn text and strokes to paths and give them a fill"}
	switch {
	case len(d.Remarks) > 0:
		first := d.Remarks[0]
		return Drawing{}, &Remark{File: w.file, Line: first.Line, Element: first.Element, ID: first.ID, Remedy: first.Remedy,
			What: fmt.Sprintf("there is no filled outline in the drawing: %s", first.What)}
	case w.whites > 0:
		none.What, none.Remedy = "all shapes of the drawing are white, the colour of paper", "fill them black"
	}
	return Drawing{}, none
}

// withoutGround drops plain rectangles, painted first, that lie behind all
// the rest: the colour of the page, not ink.
func (w *walker) withoutGround() []Shape {
	shapes := w.shapes
	for len(shapes) > 1 && shapes[0].isRect {
		rest := geom.EmptyRect()
		for _, s := range shapes[1:] {
			rest = rest.Union(s.Outline.ControlBox())
		}
		ground := shapes[0].Outline.ControlBox()
		if ground == rest || ground.Union(rest) != ground {
			break
		}
		w.remark(shapes[0].from, look{id: shapes[0].ID}, false, "the rectangle behind everything is taken as the colour of the page", "")
		shapes = shapes[1:]
	}
	return shapes
}
