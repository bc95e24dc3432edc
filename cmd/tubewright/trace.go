package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/fonts/artwork"
	"tubewright/geom"
	"tubewright/geom/trace"
	"tubewright/pattern/finding"
)

// tracedGlyph is one placed glyph, or one connected piece of an artwork, with
// its centrelines; everything is placed in the sign, front frame, mm.
type tracedGlyph struct {
	text    string
	ids     []string   // of the shapes of an artwork it was drawn with
	origin  geom.Point // where the glyph's own (0, 0) stands, or the drawing's
	outline geom.Outline
	strokes []geom.Path
	found   trace.Result // its junctions and notes; empty in a single-line face
}

// traced is the whole text, or the whole artwork.
type traced struct {
	text     []string
	font     string
	artwork  string // name of the file, "" for a text
	remarks  []artwork.Remark
	height   geom.Length // of the capital H; of all the ink of an artwork
	em       float64     // mm; of an artwork, one of its user units
	perEm    int
	glyphs   []tracedGlyph
	coverage float64 // least of the glyphs
}

// trace writes the centrelines of a text or of an artwork.
func (c *console) trace(args []string) (int, error) {
	o, err := parse("trace", args, traceSettings(), traceFlags(c))
	if err != nil {
		return 0, err
	}
	if err := oneOf("format", o.format, "json", "svg"); err != nil {
		return 0, err
	}
	t, err := c.traceWhat(o)
	if err != nil {
		return 0, err
	}
	var out bytes.Buffer
	mark := traceFormat
	if o.format == "json" {
		err = t.writeJSON(&out)
	} else {
		mark, err = traceTitle, t.writeSVG(&out)
	}
	if err != nil {
		return 0, err
	}
	if o.outFile == "" {
		_, err = c.out.Write(out.Bytes())
	} else {
		dir, name := filepath.Split(o.outFile)
		err = writeFiles(filepath.Clean(dir), []file{{name, out.Bytes(), mark}}, o.force)
	}
	return c.tell(t), err
}

// tell says what a trace found, and returns the status it gives: as of a job, a warning
// counts and a note does not.
func (c *console) tell(t traced) int {
	c.sayRemarks(t.remarks)
	worst := finding.Note
	for _, r := range t.remarks {
		worst = max(worst, severityOfRemark(r))
	}
	for _, g := range t.glyphs {
		for _, n := range g.found.Notes {
			worst = max(worst, severityOf(n))
			c.say("%s: %s", severityOf(n), g.noteMessage(n))
		}
	}
	return statusFor(worst)
}

// traceWhat traces what the command line asks for.
func (c *console) traceWhat(o *options) (traced, error) {
	name, err := artworkOf(o)
	if err != nil {
		return traced{}, err
	}
	if name != "" {
		return traceArtwork(name, o.values["height"], o.values["tolerance"])
	}
	j, err := c.readJob(o)
	if err != nil {
		return traced{}, err
	}
	face, err := openFace(j.Font)
	if err != nil {
		return traced{}, err
	}
	return traceText(j, face)
}

// traceText sets the text and traces each glyph once, at the origin, so that
// equal letters have equal strokes.
func traceText(j job.Job, face *fonts.Face) (traced, error) {
	size := face.SizeForCapHeight(j.Height)
	t := traced{text: j.Text, font: fontName(face), height: j.Height, em: size, perEm: face.Metrics().UnitsPerEm, coverage: 1}
	rows, err := setLines(j, face, size)
	if err != nil {
		return t, err
	}
	known := map[uint32]trace.Result{}
	for _, r := range rows {
		for _, g := range r.glyphs {
			to := geom.Vec{X: g.Origin.X, Y: g.Origin.Y}
			one := tracedGlyph{text: g.Text, origin: g.Origin, outline: g.Outline, strokes: g.Strokes}
			if len(g.Outline) > 0 {
				found, ok := known[g.ID]
				if !ok {
					found, err = trace.Outline(g.Outline.Transform(geom.Scaling(1, to.Neg())), trace.Options{CapHeight: float64(j.Height), Tol: float64(j.Tolerance)})
					if err != nil {
						return t, fmt.Errorf("letter %q: %w", g.Text, err)
					}
					known[g.ID] = found
				}
				one.strokes, one.found = placed(found, to)
				t.coverage = min(t.coverage, found.Coverage)
			}
			t.glyphs = append(t.glyphs, one)
		}
	}
	return t, nil
}

// placed moves what was traced at the origin to where the glyph stands.
func placed(r trace.Result, to geom.Vec) ([]geom.Path, trace.Result) {
	var strokes []geom.Path
	for _, s := range r.Strokes {
		strokes = append(strokes, s.Path.Map(geom.SimilarityMap{Scale: 1, Move: to}))
	}
	out := trace.Result{Coverage: r.Coverage, Spill: r.Spill}
	for _, n := range r.Junctions {
		n.At = n.At.Add(to)
		out.Junctions = append(out.Junctions, n)
	}
	for _, n := range r.Notes {
		n.At = n.At.Add(to)
		out.Notes = append(out.Notes, n)
	}
	return strokes, out
}

// noteMessage says a remark of the tracer in one line, with letter and place.
func (g tracedGlyph) noteMessage(n trace.Note) string {
	what := ""
	switch {
	case g.text != "":
		what = fmt.Sprintf("letter %q ", g.text)
	case len(g.ids) > 0:
		what = fmt.Sprintf("shape %q ", strings.Join(g.ids, "+"))
	}
	return fmt.Sprintf("%sat (%s, %s): %s", what, geom.FormatNumber(n.At.X, 1), geom.FormatNumber(n.At.Y, 1), n.Explanation)
}
