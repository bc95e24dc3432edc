package artwork

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// node is an element of the file.
type node struct {
	name string // without its namespace's prefix
	id   string
	line int
	attr []xml.Attr
	text []byte // of a style element
	size int    // bytes of its attributes
	kids []*node
}

// get returns an attribute, whatever its namespace, or "".
func (n *node) get(name string) string {
	for _, a := range n.attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

const svgSpace = "http://www.w3.org/2000/svg"

// readTree reads the elements of the SVG namespace; those of others (a drawing
// program's own notes) are dropped with all that is in them.
func readTree(data []byte, file string) (*node, error) {
	fail := func(line int, what, remedy string) (*node, error) {
		return nil, &Remark{File: file, Line: line, What: what, Remedy: remedy}
	}
	switch {
	case len(data) > MaxFile:
		return fail(0, fmt.Sprintf("the file has %d bytes, at most %d are read", len(data), MaxFile), "simplify the drawing")
	case bytes.HasPrefix(data, []byte{0x1f, 0x8b}):
		return fail(0, "the file is compressed (SVGZ)", "save it as plain SVG")
	case bytes.HasPrefix(data, []byte("%PDF")), bytes.HasPrefix(data, []byte("%!PS")):
		return fail(0, "this is a PDF or PostScript file", "save the drawing as plain SVG")
	}
	dec := xml.NewDecoder(bytes.NewReader(data))
	dec.Entity = map[string]string{}
	var root *node
	var open []*node
	count := 0
	for {
		line, _ := dec.InputPos()
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return fail(line, "this is not well-formed XML: "+xmlWords(err), "save the drawing again as plain SVG, in UTF-8")
		}
		switch t := tok.(type) {
		case xml.Directive:
			readEntities(string(t), dec.Entity)
		case xml.CharData:
			if len(open) > 0 && open[len(open)-1].name == "style" {
				open[len(open)-1].text = append(open[len(open)-1].text, t...)
			}
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.StartElement:
			if root != nil && t.Name.Space != svgSpace && t.Name.Space != root.get("xmlns") {
				if err := dec.Skip(); err != nil {
					return fail(line, "this is not well-formed XML: "+xmlWords(err), "save the drawing again as plain SVG, in UTF-8")
				}
				continue
			}
			n := &node{name: t.Name.Local, line: line, attr: t.Copy().Attr}
			n.id = n.get("id")
			for _, a := range n.attr {
				n.size += len(a.Name.Local) + len(a.Value)
			}
			if count++; count > maxNodes {
				return fail(line, fmt.Sprintf("the file has more than %d elements", maxNodes), "simplify the drawing")
			}
			if len(open) >= maxDepth {
				return fail(line, fmt.Sprintf("groups within groups, more than %d deep", maxDepth), "ungroup the drawing")
			}
			if root == nil {
				if n.name != "svg" {
					return fail(line, fmt.Sprintf("the file starts with <%s>, not with <svg>", clip(n.name)), "save the drawing as plain SVG")
				}
				root = n
			} else {
				up := open[len(open)-1]
				up.kids = append(up.kids, n)
			}
			open = append(open, n)
		}
	}
	if root == nil {
		return fail(0, "there is no drawing in the file", "save the drawing as plain SVG")
	}
	return root, nil
}

// xmlWords returns what an XML error says, without the line, which stands
// before it already.
func xmlWords(err error) string {
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		return clip(syntax.Msg)
	}
	return clip(strings.TrimPrefix(err.Error(), "xml: "))
}

// readEntities takes up the plain entities of a document type, which some
// drawing programs use for the names of namespaces. An entity that names
// another, or is far longer than its name, is not taken up: such files can be
// made to grow without bound.
func readEntities(directive string, into map[string]string) {
	const most, growth = 64, 16
	for _, part := range strings.Split(directive, "<!ENTITY")[1:] {
		name, rest, ok := strings.Cut(strings.TrimSpace(part), " ")
		rest = strings.TrimSpace(rest)
		if !ok || rest == "" || rest[0] != '"' && rest[0] != '\'' {
			continue
		}
		value, _, ok := strings.Cut(rest[1:], rest[:1])
		if ok && len(into) < most && len(value) <= growth*(len(name)+2) && !strings.ContainsAny(value, "&%") {
			into[name] = value
		}
	}
}
