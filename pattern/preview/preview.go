package preview

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/card"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/look"
	"tubewright/pattern/plan"
	"tubewright/pattern/support"
	"tubewright/pattern/words"
)

//go:embed template.html
var template string

//go:embed style.css
var style string

//go:embed page/bundle.js
var script string

// Span gives the glass of a unit from At mm on, counted from seal A, a light.
type Span struct {
	Unit  string
	At    float64
	Light look.Light
}

// Job is what the page shows.
type Job struct {
	Pattern  pattern.Pattern
	Result   []byte            // result.json of the same pattern
	Findings []finding.Finding // those of Result, in its order
	Spans    []Span            // at least one at 0 for each unit
	Support  support.Rule
	Words    words.Words // language of the page; the zero value is English
	Gap      float64     // mm of air between glass and wall
}

// Extra is what stands in the page beside result.json. Front frame, mm.
type extra struct {
	WallZ    float64           `json:"wallZ"`
	Supports []post            `json:"supports"`
	Units    []unit            `json:"units"` // as in result.json
	Language string            `json:"language"`
	Labels   map[string]string `json:"labels"`
	Findings [][2]string       `json:"findings"` // message and remedy of each of result.json, in the language of the page
}

type post struct {
	Unit string     `json:"unit"`
	At   [3]float64 `json:"at"`
	S    float64    `json:"s"`
}

type unit struct {
	Lights []light  `json:"lights"`
	Heats  []heat   `json:"heats"` // in the order of travel
	Plan   planView `json:"plan"`
}

type light struct {
	At     float64    `json:"at"`
	Colour string     `json:"colour"`
	RGB    [3]float64 `json:"rgb"`    // linear
	Screen [3]float64 `json:"screen"` // in the curve of a screen
}

type heat struct {
	Number int     `json:"number"`
	Kind   string  `json:"kind"` // in the language of the page
	From   float64 `json:"from"` // the heated zone, developed mm from seal A
	To     float64 `json:"to"`
}

type planView struct {
	Sections []section `json:"sections"`
	Pieces   []piece   `json:"pieces"`
}

type section struct {
	From  float64 `json:"from"`
	To    float64 `json:"to"`
	Head  float64 `json:"head"`
	Tail  float64 `json:"tail"`
	First int     `json:"first"` // heats First to Last-1, in the order of travel
	Last  int     `json:"last"`
	Steps []step  `json:"steps"`
}

type step struct {
	Heat   int        `json:"heat"`   // index within the section
	Swings string     `json:"swings"` // "A" or "B"
	Travel float64    `json:"travel"`
	Glass  [2]float64 `json:"glass"` // the stretch there is, developed mm from seal A
	Told   told       `json:"told"`
}

type told struct {
	Bend  string   `json:"bend"`
	How   string   `json:"how"`
	Fire  string   `json:"fire"`
	Why   string   `json:"why"`
	Watch []string `json:"watch"`
}

type piece struct {
	Number int     `json:"number"`
	Length float64 `json:"length"`
	Marks  []mark  `json:"marks"`
}

type mark struct {
	At   float64 `json:"at"`
	Kind string  `json:"kind"`
	Heat int     `json:"heat,omitempty"`
}

// Write writes the page. It returns an error where a unit has no light or the result
// is not the JSON it should be; nothing is written then.
func Write(w io.Writer, j Job) error {
	if !json.Valid(j.Result) {
		return fmt.Errorf("preview: the result is not JSON")
	}
	x, err := newExtra(j)
	if err != nil {
		return err
	}
	beside, err := json.Marshal(x) // escapes <, >, & and the line ends of JavaScript
	if err != nil {
		return fmt.Errorf("preview: %w", err)
	}
	var result, compact bytes.Buffer
	if err := json.Compact(&compact, j.Result); err != nil {
		return fmt.Errorf("preview: %w", err)
	}
	json.HTMLEscape(&result, compact.Bytes())
	title := strings.Join(j.Pattern.Spec.Text, " / ")
	if title == "" {
		title = j.Pattern.Spec.Name
	}
	_, err = strings.NewReplacer(
		"{{title}}", html.EscapeString(title), "{{language}}", x.Language, "{{style}}", style, "{{script}}", script,
		"{{style-hash}}", hash(style), "{{script-hash}}", hash(script),
		"{{result}}", result.String(), "{{extra}}", string(beside),
	).WriteString(w, template)
	return err
}

// hash returns a source expression of a content security policy (W3C, CSP level 3).
func hash(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

func newExtra(j Job) (extra, error) {
	w := j.Words.OrEnglish()
	x := extra{Language: w.Language(), Labels: labelsIn(w.Language()), Findings: [][2]string{}, WallZ: rounded(look.WallZ(j.Pattern, j.Gap)), Supports: []post{}, Units: []unit{}}
	for _, f := range j.Findings {
		x.Findings = append(x.Findings, [2]string{pattern.TellFinding(j.Pattern, f, w), w.Tell(f.Remedy)})
	}
	says := card.Messages(w)
	for _, s := range support.Places(j.Pattern, j.Support) {
		x.Supports = append(x.Supports, post{s.Unit, point(s.At), rounded(s.S)})
	}
	for _, u := range j.Pattern.Units {
		v := unit{Heats: []heat{}, Plan: viewOf(u, j.Pattern.Spec.Rules, says)}
		for _, sp := range j.Spans {
			if sp.Unit == u.ID {
				v.Lights = append(v.Lights, lightOf(sp))
			}
		}
		if len(v.Lights) == 0 || v.Lights[0].At > 0 {
			return x, fmt.Errorf("preview: unit %s has no light at its start", u.ID)
		}
		for _, h := range u.Heats {
			v.Heats = append(v.Heats, heat{h.Number, says.Kinds[string(h.Kind)], rounded(h.From), rounded(h.To)})
		}
		x.Units = append(x.Units, v)
	}
	return x, nil
}

func viewOf(u pattern.Unit, rules glass.Rules, says plan.Messages) planView {
	v := planView{Sections: []section{}, Pieces: []piece{}}
	words := map[[2]int]plan.Told{}
	for _, t := range u.Plan.Tell(u.Heats, bend.Strains(u.Heats, rules), says) {
		words[[2]int{t.Section, t.Step}] = t
	}
	for i, s := range u.Plan.Sections {
		out := section{From: rounded(s.From), To: rounded(s.To), Head: rounded(s.Head), Tail: rounded(s.Tail), First: s.First, Last: s.Last, Steps: []step{}}
		for k, st := range s.Order.Steps {
			t := words[[2]int{i, k}]
			out.Steps = append(out.Steps, step{Heat: st.Heat, Swings: [...]string{"A", "B"}[st.Swings], Travel: rounded(st.Travel),
				Glass: [2]float64{rounded(st.Glass[0]), rounded(st.Glass[1])}, Told: told{t.Bend, t.How, t.Fire, t.Why, append([]string{}, t.Watch...)}})
		}
		v.Sections = append(v.Sections, out)
	}
	for _, p := range u.Plan.Pieces {
		q := piece{Number: p.Number, Length: rounded(p.Length), Marks: []mark{}}
		for _, m := range p.Marks {
			q.Marks = append(q.Marks, mark{rounded(m.At), m.Kind, m.Heat})
		}
		v.Pieces = append(v.Pieces, q)
	}
	return v
}

func lightOf(sp Span) light {
	l := light{At: rounded(sp.At), Colour: sp.Light.Colour}
	for i, v := range sp.Light.RGB {
		l.RGB[i] = math.Round(v*1e4) / 1e4
		l.Screen[i] = math.Round(1e4*look.Encoded(v)) / 1e4
	}
	return l
}

// rounded keeps a thousandth of a millimetre: the page draws, result.json tells.
func rounded(v float64) float64 { return math.Round(v*1000) / 1000 }

func point(p geom.Point3) [3]float64 { return [3]float64{rounded(p.X), rounded(p.Y), rounded(p.Z)} }
