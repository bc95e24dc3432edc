package job

import (
	"math"
	"slices"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/glass"
)

// Kind says how the value of a setting is written.
type Kind int

const (
	Text   Kind = iota // one string, or an array of strings: one a line
	Name               // a word or a few
	Path               // a file or folder
	Choice             // one of a short list
	Length             // a number with its unit
)

// Setting is one thing a job can ask for: a key of the job file and the flag
// of the same name.
type Setting struct {
	Key     string
	Kind    Kind
	Help    string // one line
	Default string // in words, for help
	Choices []string

	low, high geom.Length             // range of a Length; high 0 leaves the range to glass.Rules
	field     func(*Job) *geom.Length // of a Length
	preset    func(*Job) geom.Length  // default of a Length, from the settings above it
	word      func(*Job) *string      // of a shop setting; nil for others
}

// The range of heights served: under 10 mm no tube of the trade makes a
// letter, and the largest letters made are about 3 m (design, sizes served).
const (
	MinHeight = 10 * geom.Millimetre
	MaxHeight = 5 * geom.Metre
)

// The range of tolerances: outlines are followed no closer than 1/10 000 of the
// height, and what is more than a tube off is no longer the letter.
const (
	MinTolerance = 0.005 * geom.Millimetre
	MaxTolerance = 10 * geom.Millimetre
)

// The figures of a job that asks only for its text.
const (
	defaultFont   = "comfortaa-light"
	defaultHeight = 150 * geom.Millimetre
	defaultTube   = 12 * geom.Millimetre
	defaultApart  = 38 * geom.Millimetre // of live ends (P, S32b)
)

// Alignments of the lines of a text.
const (
	Left   = "left"
	Centre = "centre"
	Right  = "right"
)

// Where new units start, besides where their length asks for it.
const (
	AsNeeded  = "as-needed"
	AtWords   = "words"
	AtLetters = "letters"
)

// noLimit is the word for a limit that is not set.
const noLimit = "no limit"

// Usual is the routing without a taste of its own.
const Usual = "usual"

// Settings lists every setting in the order in which a job file is written.
// A default may depend on the settings before it, never on those after.
func Settings() []Setting {
	return slices.Concat(wordSettings(), glassSettings(), benchSettings(), seatSettings(), shopSettings(), paperSettings(), proofSettings())
}

func wordSettings() []Setting {
	return []Setting{
		{Key: "name", Kind: Name, Help: "name of the job, printed on the sheets", Default: "the job file's name, or the text"},
		{Key: "text", Kind: Text, Help: "the wording; one string a line, or \\n between lines"},
		{Key: "font", Kind: Path, Help: "a built-in face, or a TTF, OTF or WOFF2 file", Default: defaultFont},
		{Key: "height", Kind: Length, Help: "outside height of the finished capital H", Default: defaultHeight.String(),
			low: MinHeight, high: MaxHeight,
			field: func(j *Job) *geom.Length { return &j.Height }, preset: func(*Job) geom.Length { return defaultHeight }},
		{Key: "tube", Kind: Length, Help: "outside diameter D of the glass tube", Default: defaultTube.String(),
			low: glass.MinDiameter, high: glass.MaxDiameter,
			field: func(j *Job) *geom.Length { return (*geom.Length)(&j.Rules.Diameter) }, preset: func(*Job) geom.Length { return defaultTube }},
		{Key: "align", Kind: Choice, Help: "how lines stand under each other: left, centre or right", Default: Centre, Choices: []string{Left, Centre, Right}},
		{Key: "taste", Kind: Choice, Help: "what the routing saves on: usual, fewest-electrodes, least-paint or fewest-bends", Default: Usual, Choices: []string{Usual, "fewest-electrodes", "least-paint", "fewest-bends"}},
		{Key: "break", Kind: Choice, Help: "where new units start: as-needed, words or letters", Default: AsNeeded, Choices: []string{AsNeeded, AtWords, AtLetters}},
		{Key: "letter-spacing", Kind: Length, Help: "added between letters", Default: "0mm",
			high:  geom.Metre,
			field: func(j *Job) *geom.Length { return &j.LetterSpacing }, preset: func(*Job) geom.Length { return 0 }},
		{Key: "line-spacing", Kind: Length, Help: "from one baseline to the next", Default: "1.5 times the height",
			low: MinHeight, high: 20 * geom.Metre,
			field: func(j *Job) *geom.Length { return &j.LineSpacing }, preset: func(j *Job) geom.Length { return 1.5 * j.Height }},
		{Key: "tolerance", Kind: Length, Help: "how far a fitted line or arc may leave the middle of the drawn stroke", Default: "1/2000 of the height",
			low: MinTolerance, high: MaxTolerance,
			field: func(j *Job) *geom.Length { return &j.Tolerance }, preset: func(j *Job) geom.Length { return geom.Length(math.Round(float64(j.Height)*500) / 1e6) }},
		{Key: "out", Kind: Path, Help: "folder for the files, made if missing", Default: "the job's name"},
	}
}

// glassSettings are the rules that the tube is bent to. Each starts from the
// tube's own figure (glass.Default) and is raised where a setting above it asks
// for more, so that a job which sets one rule stays consistent.
func glassSettings() []Setting {
	rule := func(key, help, word string, field func(*glass.Rules) *float64, least func(glass.Rules) float64) Setting {
		return Setting{Key: key, Kind: Length, Help: help, Default: word,
			field:  func(j *Job) *geom.Length { return (*geom.Length)(field(&j.Rules)) },
			preset: func(j *Job) geom.Length { return geom.Length(max(*field(&j.Rules), least(j.Rules))) }}
	}
	any := func(glass.Rules) float64 { return 0 }
	return []Setting{
		rule("least-radius", "least radius of any bend, to the centreline", "0.75 D",
			func(r *glass.Rules) *float64 { return &r.MinRadius }, any),
		rule("corner-radius", "usual radius of a corner, to the centreline", "1.27 D",
			func(r *glass.Rules) *float64 { return &r.CornerRadius },
			func(r glass.Rules) float64 { return r.MinRadius }),
		rule("double-back-radius", "radius of a double-back, to the centreline", "1 D",
			func(r *glass.Rules) *float64 { return &r.DoubleBackRadius },
			func(r glass.Rules) float64 { return r.MinRadius }),
		rule("clearance", "least gap from glass to glass", "0.5 D",
			func(r *glass.Rules) *float64 { return &r.Clearance }, any),
		rule("back-plane", "from the face to the first hidden plane, tube centres", "2 D",
			func(r *glass.Rules) *float64 { return &r.BackPlane },
			func(r glass.Rules) float64 { return 2 * r.DoubleBackRadius }),
		rule("plane-step", "from one hidden plane to the next, tube centres", "1.5 D",
			func(r *glass.Rules) *float64 { return &r.PlaneStep }, glass.Rules.Need),
		rule("dip-depth", "how far a strand dips at a crossing", "1.5 D",
			func(r *glass.Rules) *float64 { return &r.DipDepth }, glass.Rules.Need),
		rule("leg", "straight glass before an electrode", "60mm",
			func(r *glass.Rules) *float64 { return &r.Leg }, any),
		rule("longest-unit", "longest glass between two electrodes", "2400mm",
			func(r *glass.Rules) *float64 { return &r.MaxUnit }, any),
		rule("stick", "length of a stick of tube as bought", "1219mm",
			func(r *glass.Rules) *float64 { return &r.Stick }, any),
	}
}

// seatSettings say how large units may be, and where electrodes may stand.
func seatSettings() []Setting {
	return []Setting{
		{Key: "largest-unit", Kind: Name, Help: "width x height of the bench, door or crate, which every unit must fit either way round: 1200mm x 800mm", Default: noLimit},
		{Key: "hole-grid", Kind: Length, Help: "distance between the holes of a panel drilled beforehand: electrodes stand on them", Default: "none",
			high:  geom.Metre,
			field: func(j *Job) *geom.Length { return &j.HoleGrid }, preset: func(*Job) geom.Length { return 0 }},
		{Key: "hole-grid-x", Kind: Length, Help: "one of the holes, from the left of the lettering", Default: "0mm",
			high:  10 * geom.Metre,
			field: func(j *Job) *geom.Length { return &j.HoleGridAt[0] }, preset: func(*Job) geom.Length { return 0 }},
		{Key: "hole-grid-y", Kind: Length, Help: "the same hole, up from the baseline of the last line", Default: "0mm",
			high:  10 * geom.Metre,
			field: func(j *Job) *geom.Length { return &j.HoleGridAt[1] }, preset: func(*Job) geom.Length { return 0 }},
		{Key: "electrodes-apart", Kind: Length, Help: "least distance between electrodes, centre to centre", Default: "38mm",
			high:  geom.Metre,
			field: func(j *Job) *geom.Length { return &j.EndsApart }, preset: func(*Job) geom.Length { return defaultApart }},
	}
}

// keys returns the key of every setting and of every list of tables.
func keys() []string {
	var out []string
	for _, s := range Settings() {
		out = append(out, s.Key)
	}
	return append(out, tableKeys()...)
}

// ValueName names the value of the setting in help: LENGTH, FILE and so on.
func (s Setting) ValueName() string {
	switch s.Kind {
	case Text:
		return "TEXT"
	case Path:
		if s.Key == "proof-picture" {
			return "FILE"
		}
		if s.Key == "out" || s.IsShop() {
			return "DIR"
		}
		return "NAME-or-FILE"
	case Choice:
		return strings.ToUpper(s.Key)
	case Length:
		return "LENGTH"
	}
	return "NAME"
}
