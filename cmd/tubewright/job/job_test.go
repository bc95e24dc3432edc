package job

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"tubewright/pattern/glass"
)

// complete reads a job file's text, as the command does.
func complete(t *testing.T, src string) (Job, error) {
	t.Helper()
	vs, err := Parse("shop/open.toml", []byte(src))
	if err != nil {
		return Job{}, err
	}
	return Complete(vs)
}

func TestDefaultsAreThoseOfTheDesign(t *testing.T) {
	j, err := complete(t, `text = "RYE"`)
	if err != nil {
		t.Fatal(err)
	}
	want := Job{Name: "open", Text: []string{"RYE"}, Font: "comfortaa-light", Height: 150, Align: Centre, Taste: Usual, Break: AsNeeded,
		LineSpacing: 225, Tolerance: 0.075, Out: "open", Rules: glass.Default(12), EndsApart: 38}
	if !reflect.DeepEqual(j, want) {
		t.Errorf("got  %#v\nwant %#v", j, want)
	}
}

func TestEverySettingIsTaken(t *testing.T) {
	j, err := complete(t, `
name = "corner"
text = ["RYE", "& SALT"]
font = "faces/own.otf"
height = "6in"
tube = "1/2in"
align = "left"
letter-spacing = "2mm"
line-spacing = "0.3 m"
tolerance = "0.2mm"
out = "made"
least-radius = "14mm"
clearance = "8mm"
leg = "75mm"
longest-unit = "2 m"
stick = "1500mm"
`)
	if err != nil {
		t.Fatal(err)
	}
	rules := glass.Default(12.7)
	rules.MinRadius, rules.DoubleBackRadius, rules.BackPlane = 14, 14, 28 // the turn cannot be tighter than the least radius
	rules.Clearance, rules.PlaneStep, rules.DipDepth = 8, 12.7+8, 12.7+8  // planes at least a tube and the gap apart
	rules.Leg, rules.MaxUnit, rules.Stick = 75, 2000, 1500
	want := Job{Name: "corner", Text: []string{"RYE", "& SALT"}, Font: "shop/faces/own.otf", Height: 152.4, Align: Left, Taste: Usual, Break: AsNeeded,
		LetterSpacing: 2, LineSpacing: 300, Tolerance: 0.2, Out: "shop/made", Rules: rules, EndsApart: 38}
	if !reflect.DeepEqual(j, want) {
		t.Errorf("got  %#v\nwant %#v", j, want)
	}
}

func TestFlagsWinOverTheFile(t *testing.T) {
	file, err := Parse("a.toml", []byte("text = \"RYE\"\nheight = \"200mm\"\nfont = \"x.ttf\""))
	if err != nil {
		t.Fatal(err)
	}
	flags := Values{"height": {Text: "90mm", Place: Place{Flag: "height"}}}
	j, err := Complete(flags.Over(file))
	if err != nil {
		t.Fatal(err)
	}
	if j.Height != 90 || j.Text[0] != "RYE" || j.Font != "x.ttf" {
		t.Errorf("got %+v", j)
	}
}

func TestWrongJobsSayWhereAndWhatToWrite(t *testing.T) {
	for _, tc := range []struct{ name, src, want string }{
		{"misspelt key", "text = \"A\"\nheigth = \"12mm\"", `shop/open.toml:2:1: unknown key "heigth"; did you mean "height"?`},
		{"underscore for hyphen", "text = \"A\"\n\n  least_radius = \"12mm\"", `shop/open.toml:3:3: unknown key "least_radius"; did you mean "least-radius"?`},
		{"key like no other", "text = \"A\"\nvoltage = 3", `shop/open.toml:2:1: unknown key "voltage"; the keys are name, text, font,`},
		{"bare whole number", "text = \"A\"\nheight = 150", `shop/open.toml:2:1: height is the bare number 150, without a unit; write height = "150mm" or "150in"`},
		{"bare fraction", "text = \"A\"\ntube = 0.5", `tube is the bare number 0.5, without a unit; write tube = "0.5mm" or "0.5in"`},
		{"number in quotes without unit", "text = \"A\"\ntube = \"12\"", `shop/open.toml:2:1: tube: length "12" has no unit; write 12mm or 12in`},
		{"unknown unit", "text = \"A\"\nheight = \"9 furlongs\"", `height: length "9 furlongs": unknown unit "furlongs"; use mm, cm, m, in or ft`},
		{"negative height", "text = \"A\"\nheight = \"-15mm\"", `shop/open.toml:2:1: height: length "-15mm" is negative; write it without the minus, as in 15mm`},
		{"height of nothing", "text = \"A\"\nheight = \"0mm\"", `height: a length of 0mm; the height must be from 10mm to 5000mm`},
		{"height of a house", "text = \"A\"\nheight = \"12m\"", `height: a length of 12000mm; the height must be from 10mm to 5000mm`},
		{"tube of a drain", "text = \"A\"\ntube = \"110mm\"", `tube: a length of 110mm; the tube must be from 3mm to 40mm`},
		{"letter of two tubes", "text = \"A\"\nheight = \"30mm\"\ntube = \"20mm\"", `shop/open.toml:2:1: a height of 30mm in a tube of 20mm: no letter is two tubes high; make the height at least 40mm`},
		{"radius that glass refuses", "text = \"A\"\nleast-radius = \"5mm\"", `shop/open.toml:2:1: least radius of 5 mm: with a tube of 12 mm it must be from 9 to 120 mm`},
		{"no text", "height = \"150mm\"", `there is no text; write the words`},
		{"empty text", "text = \"\"", `shop/open.toml:1:1: the text is empty, or has only spaces`},
		{"spaces only", "text = [\"  \", \"\\t\"]", `the text is empty, or has only spaces`},
		{"control character", "text = [\"AB\", \"C\\u0007\"]", `line 2, character 2 of the text is U+0007, which no face can draw`},
		{"text of a number", "text = 24", `text is the number 24; write text = "RYE"`},
		{"line of a number", "text = [\"A\", 24]", `text: line 2 is the number 24; write each line in quotes`},
		{"text of a truth", "text = true", `text is the truth value true`},
		{"font of a list", "text = \"A\"\nfont = [\"x\"]", `font is a list; write it in quotes`},
		{"length of a date", "text = \"A\"\nheight = 1979-05-27", `height is a date or time; write a length in quotes, as in height = "12mm"`},
		{"table", "text = \"A\"\n[tube]\ndiameter = \"12mm\"", `shop/open.toml:2:2: tube is a table`},
		{"array of tables", "text = \"A\"\n[[height]]\n", `height is a list`},
		{"empty font", "text = \"A\"\nfont = \" \"", `font is empty; write it, or leave it out to take the default: comfortaa-light`},
		{"American centre", "text = \"A\"\nalign = \"center\"", `unknown align "center"; did you mean "centre"?`},
		{"unknown align", "text = \"A\"\nalign = \"justified\"", `unknown align "justified"; write left, centre, right`},
		{"name of a path", "text = \"A\"\nname = \"../up\"", `name "../up" cannot name a folder`},
		{"no quotes", "text = RYE", `shop/open.toml:1:8: this is not TOML`},
		{"open quotes", "text = \"RYE", `shop/open.toml:1:11: this is not TOML: unterminated basic string`},
		{"key twice", "text = \"A\"\ntext = \"B\"", `shop/open.toml:2:1: this is not TOML: key text is already defined`},
		{"not UTF-8", "text = \"A\xff\"", `this is not TOML: invalid UTF-8`},
		{"long text", "text = \"" + strings.Repeat("A", 2001) + "\"", `the text has 2001 characters, at most 2000 are served`},
		{"allowance of no kind", "text = \"A\"\nallowance = \"cornr 3mm\"", `shop/open.toml:2:1: allowance: unknown kind of bend "cornr"; did you mean "corner"?`},
		{"allowance twice", "text = \"A\"\nallowance = \"corner 3mm, corner 2mm\"", `allowance: corner is there twice; take one out`},
		{"allowance without a unit", "text = \"A\"\nallowance = \"corner -3\"", `allowance for corner: length "3"`},
		{"allowance of five tubes", "text = \"A\"\nallowance = \"corner 100mm\"", `allowance for a corner of 100 mm: with a tube of 12 mm it must be from -60 to 60 mm`},
		{"hands a metre apart", "text = \"A\"\nhold = \"1m\"", `cold glass to hold of 1000 mm`},
		{"box of one side", "text = \"A\"\nlargest-unit = \"1m\"", `shop/open.toml:2:1: largest-unit "1m"; write its width and height, as in largest-unit = "1200mm x 800mm"`},
		{"narrow grid", "text = \"A\"\nhole-grid = \"1mm\"", `shop/open.toml:2:1: a hole grid of 1mm; write the distance between two holes, at least 5mm`},
		{"letter of no line", "text = \"AB\"\n[[letter]]\nline = 2\nletter = 1", `shop/open.toml:3:1: line is the number 2; write a whole number from 1 to 1`},
		{"letter beyond the line", "text = \"A B\"\n[[letter]]\nletter = 1\n\n[[letter]]\nletter = 3", `shop/open.toml:6:1: letter 3: line 1 of the text, "A B", has 2; count from 1, spaces not counted`},
		{"no letter named", "text = \"AB\"\n[[letter]]\nbefore = \"break\"", `shop/open.toml:2:3: the table does not say which letter it is about`},
		{"letter twice", "text = \"AB\"\n[[letter]]\nletter = 1\n[[letter]]\nletter = 1", `shop/open.toml:5:1: letter 1 of line 1 has a table already, in line 2 of the file`},
		{"misspelt entry", "text = \"AB\"\n[[letter]]\nletter = 1\nodrer = [1]", `shop/open.toml:4:1: [[letter]] has no entry "odrer"; did you mean "order"?`},
		{"order of words", "text = \"AB\"\n[[letter]]\nletter = 1\norder = [\"one\"]", `shop/open.toml:4:1: order is a list; write the numbers of strokes, as in order = [2, -1]`},
		{"order of nothing", "text = \"AB\"\n[[letter]]\nletter = 1\norder = [0]", `order is a list; write the numbers of strokes`},
		{"before what", "text = \"AB\"\n[[letter]]\nletter = 1\nbefore = \"brake\"", `shop/open.toml:4:1: before is the text "brake"; did you mean "break"?`},
		{"electrode in the middle", "text = \"AB\"\n[[letter]]\nletter = 1\nelectrode = [\"1 middle\"]", `shop/open.toml:4:1: electrode "1 middle"; write the stroke and which end of it`},
		{"double and not", "text = \"AB\"\n[[letter]]\nletter = 1\ndouble = [1]\nno-double = [1]", `shop/open.toml:5:1: stroke 1 is under double and under no-double`},
		{"letter no list", "text = \"AB\"\n[letter]\nletter = 1", `shop/open.toml:2:2: letter is a table; write [[letter]] on a line of its own`},
		{"keep-out of no shape", "text = \"A\"\n[[keep-out]]\nname = \"stud\"\nx = \"3mm\"", `shop/open.toml:2:3: a keep-out must be one shape; write x, y, width and height`},
		{"keep-out without unit", "text = \"A\"\n[[keep-out]]\nx = \"3\"\nradius = \"5mm\"", `shop/open.toml:3:1: x: length "3" has no unit`},
		{"keep-out of a number", "text = \"A\"\n[[keep-out]]\nradius = 5", `shop/open.toml:3:1: radius is the number 5; write a length in quotes`},
		{"line of one point", "text = \"A\"\n[[keep-out]]\npoints = [\"0mm 0mm\"]", `shop/open.toml:3:1: a line of 1 points`},
		{"point of one place", "text = \"A\"\n[[keep-out]]\npoints = [\"0mm 0mm\", \"4mm\"]", `the point "4mm"; write x and y with their units`},
		{"huge file", strings.Repeat("#", MaxFile+1), `the file has 1048577 bytes, a job file at most 1048576`},
	} {
		t.Run(tc.name, func(t *testing.T) {
			j, err := complete(t, tc.src)
			if err == nil {
				t.Fatalf("read as %+v", j)
			}
			if !strings.Contains(err.Error(), tc.want) {
				t.Errorf("got  %s\nwant %s", err, tc.want)
			}
			for _, word := range []string{"struct", "Go value", "geom.", "job."} {
				if strings.Contains(err.Error(), word) {
					t.Errorf("speaks of the program, not of the job: %s", err)
				}
			}
		})
	}
}

func TestEverythingWrongIsToldAtOnce(t *testing.T) {
	_, err := complete(t, "heigth = 1\ntext = 3\ntube = 12")
	var es Errors
	if !errors.As(err, &es) || len(es) != 3 {
		t.Fatalf("got %v, want three errors", err)
	}
	for i, e := range es {
		if e.Place.Line != i+1 {
			t.Errorf("error %d stands in line %d: %v", i+1, e.Place.Line, e)
		}
	}
	_, err = complete(t, strings.Repeat("\n", 3)+manyKeys(25))
	if got := strings.Count(err.Error(), "\n") + 1; got != maxErrors+1 || !strings.HasSuffix(err.Error(), "and 15 more") {
		t.Errorf("25 errors are told in %d lines:\n%v", got, err)
	}
}

func manyKeys(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString("zzz" + string(rune('a'+i)) + " = 1\n")
	}
	return b.String()
}

func TestNames(t *testing.T) {
	for _, tc := range []struct{ text, want string }{
		{"Rye & Salt", "rye-salt"},
		{"OPEN\nTILL 2", "open-till-2"},
		{"!?", "sign"},
		{"Crème", "crème"},
		{strings.Repeat("a", 60), strings.Repeat("a", 40)},
	} {
		j, err := Complete(Values{"text": {Text: tc.text, Place: Place{Flag: "text"}}})
		if err != nil || j.Name != tc.want || j.Out != tc.want {
			t.Errorf("%q: name %q, folder %q, error %v; want %q", tc.text, j.Name, j.Out, err, tc.want)
		}
	}
}

// A job written out reads back to itself, to the last digit, whether or not it
// stands at its defaults; and what is written does not change when it is
// written again.
func FuzzJobsRoundTrip(f *testing.F) {
	for _, s := range []string{
		`text = "RYE"`,
		"text = [\"OPEN\", \"\", \"TILL 2!\"]\nheight = \"6 1/3in\"\ntube = \"1/2in\"\nalign = \"right\"",
		"text = \"\"\"\nA 'quoted' \\\"word\\\"\n\"\"\"\nfont = \"a b.otf\"\nleast-radius = \"17mm\"",
		"name = \"n\"\ntext = 'é\\n'\nout = \"/x/../y\"\nletter-spacing = \"0.0000001mm\"",
		"text = \"OPEN\"\n[[letter]]\nletter = 2\norder = [2, -1]\nbefore = \"break\"\ndouble = [1]\nelectrode = \"1 start\"\nopen = \"top\"\n[[keep-out]]\nname = \"stud's \\\"x\\\"\"\nx = \"-3mm\"\nwidth = \"4mm\"\nheight = \"1in\"",
		"text = \"A B\"\nhole-grid = \"25mm\"\nlargest-unit = \"1.2m x 800mm\"\nbreak = \"words\"\nkeep-out = [{points = [\"0mm 1mm\", \"-2mm 3mm\"]}, {x = \"1mm\", radius = \"2mm\"}]",
		"text = \"A\"\nallowance = \"corner 3mm, double-back -4.5mm\"\nhold = \"180mm\"\nstrips = \"yes\"",
		"[a.b]\nc = 1", "text = {a = [1]}", "a.b = 1\n[[c]]\n", "[[[[",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		vs, err := Parse("job.toml", src)
		if err != nil {
			return
		}
		j, err := Complete(vs)
		if err != nil {
			return
		}
		written := Write(j)
		vs, err = Parse("other.toml", written)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		again, err := Complete(vs)
		if err != nil {
			t.Fatalf("%v\n%s", err, written)
		}
		if !reflect.DeepEqual(j, again) {
			t.Fatalf("read  %+v\nwrote %+v", j, again)
		}
		if w := Write(again); string(w) != string(written) {
			t.Fatalf("%s\nwritten again:\n%s", written, w)
		}
	})
}
