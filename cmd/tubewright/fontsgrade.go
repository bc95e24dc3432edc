package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/geom"
	"tubewright/geom/trace"
	"tubewright/pattern/grade"
	"tubewright/pattern/sheet/pdf"
	"tubewright/pattern/sheet/svg"
)

// gradeFormat is the name and version of what fonts --format json writes.
const gradeFormat = "tubewright.grade/1"

// specimenTitle begins the title of a specimen.
const specimenTitle = "tubewright specimen"

// gradeSettings are the settings that a grade depends on.
func gradeSettings() []job.Setting {
	return slices.DeleteFunc(job.Settings(), func(s job.Setting) bool {
		return !slices.Contains([]string{"text", "height", "tube", "min-radius", "clearance"}, s.Key)
	})
}

// gradeFace grades a face for the tube and height of the job, in the letters
// of its text, or in the face's own.
func gradeFace(j job.Job, face *fonts.Face, letters []string) (grade.Grade, error) {
	size, err := emSize(j, face)
	if err != nil {
		return grade.Grade{}, err
	}
	cap := size * face.Metrics().CapHeight
	s := grade.Spec{
		Face: fontName(face), Rules: j.Rules, Height: float64(j.Height), Cap: cap,
		Line: (float64(j.Height) - j.Rules.Diameter) / cap, Coarse: face.IsSingleLine(),
	}
	for _, text := range letters {
		l, err := traceLetter(face, text, size, cap)
		if err != nil {
			return grade.Grade{}, err
		}
		s.Letters = append(s.Letters, l)
	}
	if len(s.Letters) == 0 {
		return grade.Grade{}, fmt.Errorf("the font %s has no letters to grade", face.Name())
	}
	return grade.Of(s), nil
}

// traceLetter sets and traces one letter by itself. One that cannot be traced
// is a letter without strokes, which the grade tells.
func traceLetter(face *fonts.Face, text string, size, cap float64) (grade.Letter, error) {
	l := grade.Letter{Text: text}
	glyphs, err := face.Shape(text, fonts.ShapeOptions{Size: size})
	if err != nil {
		return l, err
	}
	for _, g := range glyphs {
		l.Outline = append(l.Outline, g.Outline...)
		for _, p := range g.Strokes {
			l.Trace.Strokes = append(l.Trace.Strokes, trace.Stroke{Path: p})
		}
	}
	if len(l.Outline) > 0 {
		if found, err := trace.Outline(l.Outline, trace.Options{CapHeight: cap}); err == nil {
			l.Trace = found
		}
	}
	return l, nil
}

// gradedLetters returns the letters of a text, each once, or those by which a
// face is judged.
func gradedLetters(text job.Value, face *fonts.Face) []string {
	if text.Text == "" {
		return face.Letters()
	}
	var out []string
	for _, r := range text.Text {
		if s := string(r); strings.TrimSpace(s) != "" && utf8.ValidString(s) && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// gradeCommand grades one face as the command line asks and tells the result.
func (c *console) gradeCommand(o *options, face *fonts.Face) error {
	letters := gradedLetters(o.values["text"], face)
	values := o.values.Over(job.Values{"text": {Text: "letters"}})
	j, err := job.Complete(values)
	if err != nil {
		return usageError{err.Error()}
	}
	g, err := gradeFace(j, face, letters)
	if err != nil {
		return err
	}
	if o.outFile != "" {
		files, err := specimenFiles(g)
		if err == nil {
			err = writeFiles(o.outFile, files, o.force)
		}
		if err != nil {
			return err
		}
		defer c.sayWritten(o.outFile, files)
	}
	if o.format == "json" {
		return writeGrade(c.out, g)
	}
	return tellGrade(c.out, g)
}

// specimenFiles draws the specimen.
func specimenFiles(g grade.Grade) ([]file, error) {
	drawn := grade.Draw(g)
	return encodeAll([]output{
		{"specimen.svg", specimenTitle, func(w io.Writer) error { return svg.Encode(w, drawn) }},
		{"specimen.pdf", "tubewright", func(w io.Writer) error { return pdf.Encode(w, drawn) }},
	})
}

// tellGrade writes the grade for people.
func tellGrade(w io.Writer, g grade.Grade) error {
	var b strings.Builder
	row := func(key, value string) { fmt.Fprintf(&b, "%-16s%s\n", key+":", value) }
	s := g.Spec
	row("tube", fmt.Sprintf("%s, for a finished capital H %s high", geom.Length(s.Rules.Diameter), geom.Length(s.Height)))
	row("for tube", g.Verdict.String())
	if g.Why != "" {
		row("because", g.Why)
		row("remedy", g.Serve)
	}
	row("strokes", g.StrokeWords())
	row("least height", g.RoomWords())
	if cover, coverOf, spill, spillOf := g.Sweep(); coverOf != "" {
		row("pen sweep", fmt.Sprintf("covers %s %% of the ink or more (least: %s), leaves it by %s %% or less (most: %s)",
			geom.FormatNumber(100*cover, 1), coverOf, geom.FormatNumber(100*spill, 1), spillOf))
	}
	careful := g.Careful()
	row("need care", fmt.Sprintf("%d of %s at this height", len(careful), count(len(g.Letters), "letter")))
	for _, r := range g.Reasons() {
		fmt.Fprintf(&b, "  %s: %s\n", r.Why, strings.Join(r.Letters, ", "))
	}
	b.WriteString("The least height for your own words: tubewright check --font … --text \"…\"\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// writeGrade writes the grade for programs.
func writeGrade(w io.Writer, g grade.Grade) error {
	type care struct {
		Why    string `json:"why"`
		Figure string `json:"figure,omitempty"`
	}
	type letter struct {
		Text     string  `json:"text"`
		Coverage number  `json:"coverage"`
		Spill    number  `json:"spill"`
		Least    *number `json:"least_height"` // null: none found
		Care     []care  `json:"care"`
	}
	optional := func(v float64) *number {
		if v == 0 {
			return nil
		}
		n := number(v)
		return &n
	}
	out := struct {
		Format     string   `json:"format"`
		LengthUnit string   `json:"length_unit"`
		Font       string   `json:"font"`
		Tube       number   `json:"tube"`
		Height     number   `json:"height"`
		Verdict    string   `json:"verdict"`
		Why        string   `json:"why,omitempty"`
		Remedy     string   `json:"remedy,omitempty"`
		Style      string   `json:"style"`
		Width      number   `json:"stroke_width"` // mm, half of the stroke is narrower
		Contrast   number   `json:"contrast"`
		Least      *number  `json:"least_height"`
		LeastMost  *number  `json:"least_height_nine_of_ten"`
		Letters    []letter `json:"letters"`
	}{
		Format: gradeFormat, LengthUnit: "mm", Font: g.Spec.Face, Tube: number(g.Spec.Rules.Diameter), Height: number(g.Spec.Height),
		Verdict: g.Verdict.String(), Why: g.Why, Remedy: g.Serve, Style: g.Style.String(),
		Width: number(g.Widths.Typical * g.Spec.Cap), Contrast: number(g.Widths.Contrast()), Least: optional(g.Least), LeastMost: optional(g.LeastMost),
	}
	for _, l := range g.Letters {
		one := letter{Text: l.Text, Coverage: number(l.Coverage), Spill: number(l.Spill), Least: optional(l.Room.Height), Care: []care{}}
		for _, k := range l.Care {
			one.Care = append(one.Care, care(k))
		}
		out.Letters = append(out.Letters, one)
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}
