package job

import (
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"tubewright/fonts/nearest"
	"tubewright/geom"
	"tubewright/pattern/glass"
)

// Job is one job, complete: nothing in it is left to be guessed. Lengths are mm
// on the finished sign.
type Job struct {
	Name          string
	Text          []string // at least one line with something to bend
	Font          string   // name of a built-in face, or path of a font file
	Height        geom.Length
	Align         string // Left, Centre or Right
	Taste         string // of the routing: Usual or the name of another (see route.Taste)
	Break         string // where new units start: AsNeeded, AtWords or AtLetters
	LetterSpacing geom.Length
	LineSpacing   geom.Length
	Tolerance     geom.Length // of fitted lines and arcs from the middle of the drawn stroke
	Out           string      // folder for the files
	Rules         glass.Rules
	Letters       []LetterWish
	KeepOuts      []KeepOut
	HoleGrid      geom.Length    // between the holes of a panel drilled beforehand; 0 for none
	HoleGridAt    [2]geom.Length // one of them
	EndsApart     geom.Length    // least distance between electrodes
	LargestUnit   [2]geom.Length // width and height that every unit must fit, either way round; 0 for any
	Shop          Shop
	Paper         Paper
	Proof         Proof
}

// maxText is the most characters of a text, line ends included: twice the
// thousand letters of the largest sign served (design, sizes served).
const maxText = 2000

// maxName bounds the names that become folders.
const maxName = 100

// FontExtensions are the endings by which a font file is told from a built-in
// face; a font named with a slash is a file too.
func FontExtensions() []string { return []string{".ttf", ".otf", ".ttc", ".otc", ".woff2", ".woff"} }

// IsFontFile reports whether a font setting names a file, not a built-in face.
func IsFontFile(font string) bool {
	return strings.ContainsAny(font, `/\`) || slices.Contains(FontExtensions(), strings.ToLower(filepath.Ext(font)))
}

// Complete reads the values, fills in every default and checks the whole. It
// returns all that is wrong as Errors, in the order of Settings.
func Complete(vs Values) (Job, error) {
	var j Job
	var wrong Errors
	for _, s := range Settings() {
		v, given := vs[s.Key]
		var err *Error
		switch {
		case s.Kind == Length:
			err = j.setLength(s, v, given)
		case s.Key == "text":
			err = j.setText(v, given)
		case given:
			err = j.setWord(s, v)
		default:
			j.presetWord(s)
		}
		if s.Key == "tube" {
			j.Rules = glass.Default(j.Rules.Diameter)
		}
		if err != nil {
			err.Place = v.Place
			wrong = append(wrong, *err)
		}
	}
	if len(wrong) == 0 { // a letter is looked up in the text
		wrong = append(j.setLetters(vs[letterTable].Rows), j.setKeepOuts(vs[keepOutTable].Rows)...)
	}
	if len(wrong) > 0 {
		return Job{}, wrong
	}
	j.nameItself(vs)
	return j, j.check(vs)
}

func (j *Job) setLength(s Setting, v Value, given bool) *Error {
	field := s.field(j)
	if !given {
		*field = s.preset(j)
		return nil
	}
	n, err := geom.ParseLength(v.Text)
	if err != nil {
		return &Error{Message: s.inFile(v, err.Error())}
	}
	// Read to the nanometre: what Write prints is then exactly what was read.
	*field = geom.Length(math.Round(float64(n)*1e6) / 1e6)
	if s.high > 0 && !(*field >= s.low && *field <= s.high) {
		return &Error{Message: s.inFile(v, fmt.Sprintf("a length of %s", *field)),
			Remedy: fmt.Sprintf("the %s must be from %s to %s", s.subject(), s.low, s.high)}
	}
	return nil
}

// inFile puts the key before a message where the place does not name it.
func (s Setting) inFile(v Value, msg string) string {
	if v.Place.IsFlag() {
		return msg
	}
	return s.Key + ": " + msg
}

// subject names a length setting in a sentence, as glass.Rules does.
func (s Setting) subject() string { return strings.ReplaceAll(s.Key, "-", " ") }

func (j *Job) setText(v Value, given bool) *Error {
	const remedy = `write the words, as in text = "RYE & SALT" or --text "RYE & SALT"`
	if !given {
		return &Error{Message: "there is no text", Remedy: remedy}
	}
	text := strings.Trim(strings.ReplaceAll(v.Text, "\r\n", "\n"), "\n")
	if strings.TrimSpace(text) == "" {
		return &Error{Message: "the text is empty, or has only spaces", Remedy: remedy}
	}
	if n := utf8.RuneCountInString(text); n > maxText {
		return &Error{Message: fmt.Sprintf("the text has %d characters, at most %d are served", n, maxText), Remedy: "make several jobs of it"}
	}
	j.Text = strings.Split(text, "\n")
	for n, line := range j.Text {
		for i, r := range []rune(line) {
			if r == utf8.RuneError || unicode.IsControl(r) {
				return &Error{Message: fmt.Sprintf("line %d, character %d of the text is %U, which no face can draw", n+1, i+1, r), Remedy: "take it out"}
			}
		}
	}
	return nil
}

func (j *Job) setWord(s Setting, v Value) *Error {
	word := strings.TrimSpace(v.Text)
	if word == "" {
		return &Error{Message: s.Key + " is empty", Remedy: "write it, or leave it out to take the default: " + s.Default}
	}
	if strings.ContainsFunc(word, func(r rune) bool { return r == utf8.RuneError || unicode.IsControl(r) }) {
		return &Error{Message: fmt.Sprintf("%s holds a control character: %q", s.Key, clip(word)), Remedy: "take it out"}
	}
	if s.Kind == Choice && !slices.Contains(s.Choices, word) {
		return s.unknownChoice(word)
	}
	if s.IsShop() {
		j.setShopWord(s, v, word)
		return nil
	}
	switch s.Key {
	case "name":
		if !namesFolder(word) {
			return &Error{Message: fmt.Sprintf("name %q cannot name a folder", clip(word)),
				Remedy: fmt.Sprintf("leave out / \\ : and a leading point, and take at most %d characters", maxName)}
		}
		j.Name = word
	case "font":
		j.Font = word
		if IsFontFile(word) {
			j.Font = from(v.Place.dir(), word)
		}
	case "align":
		j.Align = word
	case "taste":
		j.Taste = word
	case "break":
		j.Break = word
	case "largest-unit":
		return j.setLargest(word)
	case "allowance":
		return j.setAllowance(word)
	case "out":
		j.Out = from(v.Place.dir(), word)
	}
	return nil
}

// namesFolder reports whether a folder can have this name on any system.
func namesFolder(word string) bool {
	return word != "" && word == strings.TrimSpace(word) && !strings.HasPrefix(word, ".") && !strings.ContainsAny(word, `/\:`) &&
		!strings.ContainsFunc(word, func(r rune) bool { return r == utf8.RuneError || unicode.IsControl(r) }) &&
		utf8.RuneCountInString(word) <= maxName
}

func (s Setting) unknownChoice(word string) *Error {
	e := &Error{Message: fmt.Sprintf("unknown %s %q", s.Key, clip(word)), Remedy: "write " + strings.Join(s.Choices, ", ")}
	if near := nearest.Word(word, s.Choices); near != "" {
		e.Remedy = fmt.Sprintf("did you mean %q?", near)
	}
	return e
}

// from returns a path that is meant relative to dir.
func from(dir, path string) string {
	if filepath.IsAbs(path) {
		return filepath.Clean(path)
	}
	return filepath.Join(dir, path)
}

func (j *Job) presetWord(s Setting) {
	switch s.Key {
	case "font":
		j.Font = defaultFont
	case "align":
		j.Align = s.Default
	case "taste":
		j.Taste = s.Default
	case "break":
		j.Break = s.Default
	}
}

// nameItself names a job without a name after its file, else after its text,
// and its folder after the job.
func (j *Job) nameItself(vs Values) {
	if j.Name == "" {
		j.Name = fileName(vs)
	}
	if j.Name == "" {
		j.Name = slug(strings.Join(j.Text, " "))
	}
	if j.Out == "" {
		j.Out = j.Name
	}
}

// fileName returns the name of the job file without its ending, where that can
// name a folder, else "".
func fileName(vs Values) string {
	for _, k := range keys() {
		if f := vs[k].Place.File; f != "" {
			base := filepath.Base(f)
			base = strings.TrimSuffix(base, filepath.Ext(base))
			if base != "-" && namesFolder(base) {
				return base
			}
		}
	}
	return ""
}

// slug makes a folder's name of a text: its letters and digits in lower case,
// one hyphen for whatever stands between them.
func slug(text string) string {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) })
	const most = 40
	r := []rune(strings.Join(words, "-"))
	if len(r) == 0 {
		return "sign"
	}
	return strings.Trim(string(r[:min(len(r), most)]), "-")
}

// check holds the settings against each other.
func (j *Job) check(vs Values) error {
	if err := j.Rules.Validate(); err != nil {
		e := Error{Message: err.Error()}
		for _, s := range Settings() {
			if s.Kind == Length && strings.HasPrefix(err.Error(), s.subject()+" ") {
				e.Place = vs[s.Key].Place
			}
		}
		return Errors{e}
	}
	if least := geom.Length(2 * j.Rules.Diameter); j.Height < least {
		return Errors{{Place: vs["height"].Place,
			Message: fmt.Sprintf("a height of %s in a tube of %s: no letter is two tubes high", j.Height, geom.Length(j.Rules.Diameter)),
			Remedy:  fmt.Sprintf("make the height at least %s, or take a thinner tube", least)}}
	}
	if j.HoleGrid > 0 && j.HoleGrid < leastGrid {
		return Errors{{Place: vs["hole-grid"].Place, Message: fmt.Sprintf("a hole grid of %s", j.HoleGrid),
			Remedy: fmt.Sprintf("write the distance between two holes, at least %s, or 0mm for no grid", leastGrid)}}
	}
	return nil
}

// leastGrid is the least distance between holes that an electrode's jacket leaves
// any panel between.
const leastGrid = 5 * geom.Millimetre
