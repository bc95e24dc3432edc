package job

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"tubewright/geom"

	"github.com/pelletier/go-toml/v2"
)

// Write returns the job as a file that Parse and Complete read back to the same
// job. Every setting is there with what it means; one that stands at its
// default is commented out, so that it follows when the tube or the height is
// changed.
func Write(j Job) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# A job for tubewright. Lengths need a unit: mm, cm, m, in or ft; D is the tube's outside diameter.\n")
	fmt.Fprintf(&b, "# A line that starts with # is not in force: it shows the default.\n")
	preset := j.presets()
	for _, s := range Settings() {
		fmt.Fprintf(&b, "\n# %s%s.", strings.ToUpper(s.Help[:1]), s.Help[1:])
		if s.Default != "" {
			fmt.Fprintf(&b, " Default: %s.", s.Default)
		}
		b.WriteString("\n")
		line, standing := j.line(s), preset.line(s)
		if line == standing && !s.shown() {
			b.WriteString("# ")
		}
		b.WriteString(line)
	}
	writeLetters(&b, j.Letters)
	writeKeepOuts(&b, j.KeepOuts)
	return []byte(b.String())
}

// shown says of the settings everyone decides: a job file states them even
// where they stand at their default.
func (s Setting) shown() bool {
	switch s.Key {
	case "name", "text", "font", "height", "tube":
		return true
	}
	return false
}

// presets returns the job with every setting but the shown ones at its default.
func (j Job) presets() Job {
	vs := Values{}
	for _, s := range Settings() {
		if s.shown() {
			vs[s.Key] = Value{Text: j.value(s)}
		}
	}
	p, err := Complete(vs)
	if err != nil {
		return Job{} // not a job that Complete gave: every line is in force
	}
	return p
}

// value returns the setting as it is written, without quotes.
func (j Job) value(s Setting) string {
	if s.IsShop() {
		return cmp.Or(*s.word(&j), s.Default)
	}
	switch s.Key {
	case "name":
		return j.Name
	case "text":
		return strings.Join(j.Text, "\n")
	case "font":
		return j.Font
	case "align":
		return j.Align
	case "taste":
		return j.Taste
	case "break":
		return j.Break
	case "largest-unit":
		if j.LargestUnit[0] == 0 {
			return noLimit
		}
		return exact(j.LargestUnit[0]) + " x " + exact(j.LargestUnit[1])
	case "allowance":
		return j.allowanceText()
	case "out":
		return j.Out
	}
	return exact(*s.field(&j))
}

// exact writes a length with all its digits; Length.String rounds for people.
func exact(l geom.Length) string {
	return strconv.FormatFloat(float64(l), 'f', -1, 64) + "mm"
}

func (j Job) line(s Setting) string {
	var v any = j.value(s)
	if s.Kind == Text && len(j.Text) > 1 {
		v = j.Text
	}
	line, err := toml.Marshal(map[string]any{s.Key: v})
	if err != nil {
		panic(err) // a string or a list of strings always encodes
	}
	return string(line)
}
