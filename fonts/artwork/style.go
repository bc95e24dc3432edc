package artwork

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// look is what of an element's style decides whether and how it is ink.
type look struct {
	fill, fillRule, stroke, visibility string
	fillOpacity                        float64
	gone                               bool // display: none, or wholly transparent
	id                                 string
	clipped                            *node // the element whose clip or mask holds
	moved                              bool  // it has a transform in a style, not as an attribute
}

func firstLook() look {
	return look{fill: "black", fillRule: "nonzero", stroke: "none", visibility: "visible", fillOpacity: 1}
}

// sheets are the rules of the file's style elements.
type sheets struct {
	rules  int
	byName [3]map[string][]rule // for elements, classes, ids; looked up, never ranged over
	work   int                  // rules looked at and declarations carried out
	unread []Remark
}

// rule is what a style element says of an element, a class or an id; "" is
// any element. Where it is a class or id, element narrows it down.
type rule struct {
	kind          int // index in byName
	name, element string
	order         int
	decl          [][2]string
}

// The most style rules that are read; and rules looked at and declarations
// carried out for the elements, in all.
const (
	maxRules = 5000
	maxWork  = 20_000_000
)

// styleSheets reads the style elements: rules for an element, a class or an
// id, as drawing programs write them. Others are remarked on if they could
// matter.
func styleSheets(root *node) sheets {
	var s sheets
	for k := range s.byName {
		s.byName[k] = map[string][]rule{}
	}
	var find func(n *node)
	find = func(n *node) {
		if n.name == "style" {
			s.read(n)
		}
		for _, k := range n.kids {
			find(k)
		}
	}
	find(root)
	return s
}

func (s *sheets) read(n *node) {
	for _, block := range strings.Split(withoutComments(string(n.text)), "}") {
		selectors, body, ok := strings.Cut(block, "{")
		if !ok {
			continue
		}
		decl := declarations(body)
		if !decidesInk(decl) {
			continue
		}
		for _, sel := range strings.Split(selectors, ",") {
			r, ok := simpleSelector(strings.TrimSpace(sel))
			if ok && s.rules < maxRules {
				r.decl, r.order = decl, s.rules
				s.byName[r.kind][r.name] = append(s.byName[r.kind][r.name], r)
				s.rules++
			} else if len(s.unread) < 10 {
				s.unread = append(s.unread, Remark{Line: n.line, Element: n.name, ID: n.id, Differs: true,
					What:   fmt.Sprintf("the style rule for %q is not understood and not followed", clip(strings.TrimSpace(sel))),
					Remedy: "save with presentation attributes instead of a style sheet"})
			}
		}
	}
}

func withoutComments(s string) string {
	var b strings.Builder
	for {
		before, after, ok := strings.Cut(s, "/*")
		b.WriteString(before)
		if !ok {
			return b.String()
		}
		_, s, ok = strings.Cut(after, "*/")
		if !ok {
			return b.String()
		}
	}
}

// simpleSelector reads "path", ".st0", "path.st0", "#logo" or "*".
func simpleSelector(s string) (rule, bool) {
	if s == "*" {
		return rule{}, true
	}
	if s == "" || strings.ContainsAny(s, " >+~[]:@*\t\n") {
		return rule{}, false
	}
	r, mark := rule{kind: 0, name: s}, strings.IndexAny(s, ".#")
	if mark >= 0 {
		r = rule{kind: 1, element: s[:mark], name: s[mark+1:]}
		if s[mark] == '#' {
			r.kind = 2
		}
	}
	return r, !strings.ContainsAny(r.name, ".#")
}

// rulesFor returns the rules that hold for an element, the weightiest last:
// those for its kind, for its classes, for its id.
func (s *sheets) rulesFor(n *node) []rule {
	const mostClasses = 64
	out := slices.Concat(s.byName[0][""], s.byName[0][n.name])
	classes := strings.Fields(n.get("class"))
	for i, c := range classes[:min(len(classes), mostClasses)] {
		if !slices.Contains(classes[:i], c) {
			out = append(out, s.byName[1][c]...)
		}
	}
	if n.id != "" {
		out = append(out, s.byName[2][n.id]...)
	}
	s.work += len(out)
	out = slices.DeleteFunc(out, func(r rule) bool { return r.element != "" && r.element != n.name })
	slices.SortStableFunc(out, func(a, b rule) int { return cmp.Or(cmp.Compare(a.kind, b.kind), cmp.Compare(a.order, b.order)) })
	return out
}

func declarations(body string) [][2]string {
	var out [][2]string
	for _, d := range strings.Split(body, ";") {
		if k, v, ok := strings.Cut(d, ":"); ok {
			v = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(v), "!important"))
			out = append(out, [2]string{strings.ToLower(strings.TrimSpace(k)), v})
		}
	}
	return out
}

func decidesInk(decl [][2]string) bool {
	for _, d := range decl {
		switch d[0] {
		case "fill", "fill-rule", "display", "visibility", "opacity", "fill-opacity", "transform", "clip-path", "mask":
			return true
		}
	}
	return false
}

// of returns the look of an element whose parent has the look up.
func (s *sheets) of(n *node, up look) look {
	l := up
	l.moved = false
	if n.id != "" {
		l.id = n.id
	}
	for _, key := range []string{"fill", "fill-rule", "stroke", "visibility", "display", "opacity", "fill-opacity", "clip-path", "mask"} {
		if v := n.get(key); v != "" {
			l.set(n, key, v, up)
		}
	}
	if s.work < maxWork {
		for _, r := range s.rulesFor(n) {
			s.work += len(r.decl)
			l.setAll(n, r.decl, up)
		}
	}
	l.setAll(n, declarations(n.get("style")), up)
	return l
}

func (l *look) setAll(n *node, decl [][2]string, up look) {
	for _, d := range decl {
		l.set(n, d[0], d[1], up)
	}
}

func (l *look) set(n *node, key, value string, up look) {
	inherit := value == "inherit"
	pick := func(field *string, from string) {
		*field = strings.ToLower(strings.TrimSpace(value))
		if inherit {
			*field = from
		}
	}
	switch key {
	case "fill":
		pick(&l.fill, up.fill)
	case "fill-rule":
		pick(&l.fillRule, up.fillRule)
	case "stroke":
		pick(&l.stroke, up.stroke)
	case "visibility":
		pick(&l.visibility, up.visibility)
	case "fill-opacity":
		if v, ok := share(value); ok {
			l.fillOpacity = v
		}
	case "display":
		l.gone = value == "none" // nothing is looked at within what is gone
	case "opacity":
		if v, ok := share(value); ok && v == 0 {
			l.gone = true
		}
	case "transform":
		l.moved = l.moved || value != "none"
	case "clip-path", "mask":
		if value != "none" && !inherit {
			l.clipped = n
		}
	}
}

// share reads an opacity: a number or a percentage.
func share(s string) (float64, bool) {
	s, percent := strings.CutSuffix(strings.TrimSpace(s), "%")
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return 0, false
	}
	if percent {
		v /= 100
	}
	return max(0, min(v, 1)), true
}

// isPaint reports whether a colour leaves a mark.
func isPaint(v string) bool { return v != "none" && v != "transparent" }

// isWhite reports whether a colour is that of the paper.
func isWhite(v string) bool {
	switch strings.ReplaceAll(v, " ", "") {
	case "white", "#fff", "#ffffff", "#ffffffff", "#ffff", "rgb(255,255,255)", "rgb(100%,100%,100%)", "rgba(255,255,255,1)", "hsl(0,0%,100%)":
		return true
	}
	return false
}
