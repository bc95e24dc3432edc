package artwork

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/geom/region"
)

// svgOf wraps elements in a drawing of 100 × 50 mm with a unit of 1 mm.
func svgOf(body string) []byte {
	return []byte(`<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="50mm" viewBox="0 0 100 50">` + body + `</svg>`)
}

func parsed(t *testing.T, body string) Drawing {
	t.Helper()
	d, err := Parse(svgOf(body), "a.svg")
	if err != nil {
		t.Fatalf("%s: %v", body, err)
	}
	return d
}

// areaOf is the area of the ink of a drawing.
func areaOf(t *testing.T, d Drawing) float64 {
	t.Helper()
	sum := 0.0
	ps, err := d.Pieces(1, geom.Vec{}, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		sum += p.Ink.Area()
	}
	return sum
}

// Every way of writing a shape gives its area in closed form.
func TestAreas(t *testing.T) {
	for _, tc := range []struct {
		name, body string
		want       float64
	}{
		{"rectangle", `<rect x="1" y="2" width="10" height="5"/>`, 50},
		{"rounded", `<rect width="10" height="8" rx="2"/>`, 80 - 4*4 + math.Pi*4},
		{"rounded unevenly, too far", `<rect width="10" height="4" rx="2" ry="9"/>`, 40 - 4*2*2 + math.Pi*2*2},
		{"in inches", `<rect width="1in" height="10"/>`, 96 * 10}, // a unit is a px within the drawing
		{"circle", `<circle cx="20" cy="20" r="10"/>`, math.Pi * 100},
		{"ellipse", `<ellipse cx="20" cy="20" rx="10" ry="5"/>`, math.Pi * 50},
		{"polygon", `<polygon points="0,0 10,0 10,10"/>`, 50},
		{"polyline", `<polyline points="0 0 10 0 10 10 "/>`, 50},
		{"path, absolute", `<path d="M10 10H20V30H10Z"/>`, 200},
		{"path, relative, no spaces", `<path d="m10-10h10v20h-10z"/>`, 200},
		{"lines after M", `<path d="M0,0 10,0 10,10 0,10"/>`, 100},
		{"lines after m", `<path d="m0,0 10,0 0,10 -10,0"/>`, 100},
		{"numbers run together", `<path d="M.5.5 10.5.5 10.5 10.5.5 10.5z"/>`, 100},
		{"exponents", `<path d="M0 0L1e1 0 1.0E+1 100e-1 0 10z"/>`, 100},
		{"after z on from the start", `<path d="M0 0h10v10h-10z h-5v-5z"/>`, 100 + 12.5},
		{"two half circles", `<path d="M0 0a5 5 0 0 1 10 0a5 5 0 0 1-10 0z"/>`, math.Pi * 25},
		{"flags without spaces", `<path d="M0 0a5 5 0 0110 0a5 5 0 01-10 0z"/>`, math.Pi * 25},
		{"radius too small is enlarged", `<path d="M0 0A1 1 0 0 1 10 0A1 1 0 0 1 0 0z"/>`, math.Pi * 25},
		{"arc without radius is a line", `<path d="M0 0A0 5 0 0 1 10 0V10H0z"/>`, 100},
		{"large arc", `<path d="M10 0A10 10 0 1 1 0 10L0 0z"/>`, math.Pi*75 + 100},
		{"ellipse turned by 90 degrees", `<path d="M0 0A2 4 90 0 1 8 0A2 4 90 0 1 0 0z"/>`, math.Pi * 8},
		{"cubic", `<path d="M0 0C0 10 10 10 10 0z"/>`, 60},                      // ∫ y dx = 10·10·0.6
		{"smooth cubic", `<path d="M0 0C0 10 10 10 10 0S20-10 20 0z"/>`, 120},   // its mirror image below
		{"S without a curve before", `<path d="M0 0S10 10 10 0z"/>`, 30},        // C 0 0 10 10 10 0
		{"quadratic", `<path d="M0 0Q5 10 10 0z"/>`, 100.0 / 3},                 // 2/3 of the parabola's box of 10 × 5
		{"smooth quadratic", `<path d="M0 0Q5 10 10 0T20 0z"/>`, 200.0 / 3},     // the same again, below
		{"T without a curve before is a line", `<path d="M0 0T10 0V10z"/>`, 50}, //
		{"moved", `<g transform="translate(5,6)"><rect width="3" height="4"/></g>`, 12},
		{"scaled", `<rect width="3" height="4" transform="scale(2)"/>`, 48},
		{"scaled unevenly", `<rect width="3" height="4" transform="scale(2 0.5)"/>`, 12},
		{"mirrored", `<rect width="3" height="4" transform="scale(-1,1)"/>`, 12},
		{"turned", `<rect width="3" height="4" transform="rotate(30 5 5)"/>`, 12},
		{"sheared", `<rect width="3" height="4" transform="skewX(20) skewY(0)"/>`, 12},
		{"matrix", `<rect width="3" height="4" transform="matrix(1 2 0 3 4 5)"/>`, 36},
		{"several", `<rect width="3" height="4" transform="translate(1) scale(2),rotate(45)"/>`, 48},
		{"hole by direction", `<path d="M0 0H10V10H0zM2 2V8H8V2z"/>`, 64},
		{"same direction, non-zero", `<path d="M0 0H10V10H0zM2 2H8V8H2z"/>`, 100},
		{"same direction, even-odd", `<path fill-rule="evenodd" d="M0 0H10V10H0zM2 2H8V8H2z"/>`, 64},
		{"even-odd, three deep", `<path style="fill-rule:evenodd" d="M0 0H10V10H0zM2 2H8V8H2zM4 4V6H6V4z"/>`, 68},
		{"even-odd, curved, mirrored", `<path transform="scale(-1 1)" fill-rule="evenodd" d="M0 0Q5 10 10 0zM4 1V2H6V1z"/>`, 100.0/3 - 2},
		{"overlapping shapes count once", `<rect width="10" height="10"/><rect x="5" width="10" height="10"/>`, 150},
		{"reference", `<defs><rect id="r" width="2" height="3"/></defs><use xlink:href="#r"/><use href="#r" x="10" y="1"/>`, 12},
		{"symbol", `<symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol><use href="#s" width="20" height="20"/>`, 100},
		{"inner drawing", `<svg x="5" y="5" width="20" height="10" viewBox="0 0 10 10"><rect width="10" height="10"/></svg>`, 100},
		{"style of a class", `<style>/* c */ .a,.b{fill:none} path.c{display:none} #d{fill:none}</style><rect class="x a" width="5" height="5"/><path class="c" d="M0 0h5v5z"/><rect id="d" width="9" height="9"/><rect class="c" width="2" height="2"/>`, 4},
		{"an id outweighs a class", `<style>#d{fill:none}.k{fill:red}</style><circle id="d" class="k" r="5"/><rect class="k" width="2" height="2"/>`, 4},
		{"inherited", `<g fill="none"><circle style="fill:inherit" r="5"/></g><rect width="2" height="2"/>`, 4},
		{"hidden", `<g display="none"><rect width="5" height="5"/></g><rect visibility="hidden" width="6" height="6"/><g opacity="0"><rect width="5" height="5"/></g><rect fill-opacity="0%" width="7" height="7"/><rect x="50" width="2" height="2"/>`, 4},
		{"white is paper", `<rect x="30" fill="#FFF" width="9" height="9"/><rect width="2" height="2"/>`, 4},
		{"page colour", `<rect width="100" height="50" fill="navy"/><rect x="3" y="3" width="2" height="2"/>`, 4},
		{"degenerate", `<path d="M0 0"/><path d=""/><rect width="0" height="3"/><circle r="0"/><polygon points="1,1"/><path d="M0 0L5 5"/><rect x="9" width="2" height="2"/>`, 4},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if got := areaOf(t, parsed(t, tc.body)); math.Abs(got-tc.want) > 1e-3*tc.want {
				t.Errorf("area %.4f, want %.4f", got, tc.want)
			}
		})
	}
}

// The arc of the standard's own figure (SVG 1.1, section 8.3.8): from (300,200)
// by h-150 and a150,150 0 1,0 150,-150 it is three quarters of a circle about (300,200).
func TestArcOfTheStandard(t *testing.T) {
	o, err := parsePath("M300,200 h-150 a150,150 0 1,0 150,-150 z")
	if err != nil {
		t.Fatal(err)
	}
	at := o[0].Start
	for i, c := range o[0].Curves {
		for k := 1; i > 0 && k <= 8; k++ {
			if d := c.At(at, float64(k)/8).Dist(geom.Point{X: 300, Y: 200}); math.Abs(d-150) > 150*3e-4 {
				t.Errorf("piece %d is %.3f from the middle", i, d)
			}
		}
		at = c.To
	}
	if got := math.Abs(region.Region{Loops: region.Flatten(o, 1e-3)}.Area()); math.Abs(got-0.75*math.Pi*150*150) > 50 {
		t.Errorf("area %.1f", got)
	}
}

func TestPlaces(t *testing.T) {
	d := parsed(t, `<g id="word"><path d="M10 10h20v5h-20z"/></g><rect id="dot" x="90" y="1" width="2" height="2"/>`)
	if d.Unit != 1 || len(d.Shapes) != 2 || d.Shapes[0].ID != "word" || d.Shapes[1].ID != "dot" || len(d.Remarks) > 0 {
		t.Errorf("got %+v", d)
	}
	// y is turned up.
	if box := d.Box(); box != (geom.Rect{Min: geom.Point{X: 10, Y: -15}, Max: geom.Point{X: 92, Y: -1}}) {
		t.Errorf("box %v", box)
	}
}

// A drawing within the drawing is fitted in and stands in the middle.
func TestInnerDrawingIsCentred(t *testing.T) {
	for body, want := range map[string]geom.Rect{
		`<svg x="5" y="5" width="20" height="10" viewBox="0 0 10 10"><rect width="10" height="10"/></svg>`: {Min: geom.Point{X: 10, Y: -15}, Max: geom.Point{X: 20, Y: -5}},
		`<svg x="5" y="5" width="10" height="20" viewBox="0 0 10 10"><rect width="10" height="10"/></svg>`: {Min: geom.Point{X: 5, Y: -20}, Max: geom.Point{X: 15, Y: -10}},
	} {
		if box := parsed(t, body).Box(); box != want {
			t.Errorf("%s: %v, want %v", body, box, want)
		}
	}
}

func TestUnits(t *testing.T) {
	for _, tc := range []struct {
		attr string
		want geom.Length
	}{
		{`width="100mm" viewBox="0 0 200 100"`, 0.5},
		{`width="10cm" height="50mm" viewBox="0 0 100 50"`, 1},
		{`width="2in" viewBox="0 0 2 1"`, 25.4},
		{`width="72pt" height="36pt" viewBox="0 0 72 36"`, 25.4 / 72},
		{`height="6pc" viewBox="0 0 1 1"`, 25.4},
		{`width="100mm" height="100mm" viewBox="0 0 100 50"`, 1}, // fitted in
		{`width="100mm" height="100mm" viewBox="0 0 100 50" preserveAspectRatio="xMidYMid slice"`, 2},
		{`width="100mm"`, 25.4 / 96},
		{`width="100px" viewBox="0 0 100 50"`, 0},
		{`width="100" viewBox="0 0 100 50"`, 0},
		{`width="100%" viewBox="0 0 100 50"`, 0},
		{`viewBox="0 0 100 50"`, 0},
		{``, 0},
	} {
		d, err := Parse([]byte(`<svg xmlns="http://www.w3.org/2000/svg" `+tc.attr+`><rect width="1" height="1"/></svg>`), "a.svg")
		if err != nil || math.Abs(float64(d.Unit-tc.want)) > 1e-12 {
			t.Errorf("%s: a unit of %v mm, error %v; want %v", tc.attr, float64(d.Unit), err, float64(tc.want))
		}
	}
}

// What is not ink is named, with its line, id and a remedy.
func TestRemarks(t *testing.T) {
	const ink = `<rect width="1" height="1"/>`
	for _, tc := range []struct {
		body, want string
		differs    bool
	}{
		{"\n" + `<text id="name">RYE</text>` + ink, `a.svg:2: <text id="name">: text has no outline of its own`, true},
		{`<image href="x.png"/>` + ink, `<image>: a picture made of dots`, true},
		{`<line x2="5" stroke="red"/>` + ink, `<line>: a line has no area`, true},
		{`<g id="outer"><path fill="none" stroke="#000" d="M0 0L9 9"/></g>` + ink, `<path id="outer">: it has a stroke but no fill`, true},
		{`<rect fill="url(#g)" width="9" height="9"/>`, `its gradient or pattern is taken as plain ink`, false},
		{`<g clip-path="url(#c)">` + ink + ink + `</g>`, `<g>: its clip path or mask is not followed`, true},
		{`<rect width="9" height="9"/><circle cx="4" cy="4" r="2" fill="white"/>`, `<circle>: a white shape lies over ink`, true},
		{`<use href="#nowhere"/>` + ink, `<use>: it refers to "#nowhere"`, true},
		{`<flowRoot/>` + ink, `<flowRoot>: the element is not known`, true},
		{`<foreignObject><p/></foreignObject>` + ink, `<foreignObject>: content that is not SVG`, true},
		{`<style>g > path{fill:none}</style>` + ink, `the style rule for "g > path" is not understood`, true},
		{`<rect id="page" width="100" height="50"/>` + ink + ink + `<circle r="3" cx="9" cy="9"/>`, `<rect id="page">: the rectangle behind everything`, false},
	} {
		d := parsed(t, tc.body)
		if len(d.Remarks) != 1 || !strings.Contains(d.Remarks[0].Message(), tc.want) || d.Remarks[0].Differs != tc.differs || tc.differs && d.Remarks[0].Remedy == "" {
			t.Errorf("%s: %+v, want %q", tc.body, d.Remarks, tc.want)
		}
	}
	if d := parsed(t, `<g visibility="hidden"><text>x</text></g><text display="none">y</text>`+ink); len(d.Remarks) > 0 {
		t.Errorf("what is not seen is remarked on: %+v", d.Remarks)
	}
}

// A file that nothing can be made of gives an error that says why and what to do.
func TestErrors(t *testing.T) {
	deep := strings.Repeat("<g>", 300) + strings.Repeat("</g>", 300)
	var doubling strings.Builder // 2^40 squares, were they drawn
	doubling.WriteString(`<defs><g id="a0"/>`)
	for i := 1; i <= 40; i++ {
		fmt.Fprintf(&doubling, `<g id="a%d"><use href="#a%d"/><use href="#a%d"/></g>`, i, i-1, i-1)
	}
	doubling.WriteString(`</defs><use href="#a40"/>`)
	entities := `<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;">]>` +
		`<svg xmlns="http://www.w3.org/2000/svg"><rect id="&c;" width="1" height="1"/></svg>`
	// A little file that asks for a lot of work.
	rules := strings.Repeat("x.c{fill:red}", maxRules)
	crowd := strings.Repeat(`<rect class="c" width="1" height="1"/>`, 20_000)
	again := func(part string) string {
		return `<defs><g id="r">` + part + `</g></defs>` + strings.Repeat(`<use href="#r"/>`, 5000)
	}
	for _, tc := range []struct{ name, file, want string }{
		{"empty", "", "a.svg: there is no drawing in the file"},
		{"not XML", "height = 5", "there is no drawing in the file"},
		{"broken XML", "<svg><g></svg>", "not well-formed XML"},
		{"unfinished", `<svg xmlns="http://www.w3.org/2000/svg"><rect width="1" height="1"`, "not well-formed XML"},
		{"another format", "<html></html>", "starts with <html>"},
		{"compressed", "\x1f\x8b\x08", "compressed"},
		{"PDF", "%PDF-1.4", "PDF"},
		{"too long", strings.Repeat(" ", MaxFile+1), "at most 33554432 are read"},
		{"Latin-1", `<?xml version="1.0" encoding="ISO-8859-1"?><svg/>`, "UTF-8"},
		{"entity bomb", entities, "not well-formed XML"},
		{"deep", string(svgOf(deep)), "200 deep"},
		{"doubling", string(svgOf(doubling.String())), "refers to its own parts too often"},
		{"circle of references", string(svgOf(`<g id="a"><use href="#a"/></g>`)), "refers to its own parts too often"},
		{"rules that hold for nothing", string(svgOf(`<style>` + rules + `</style>` + crowd)), "too many rules"},
		{"a long style again and again", string(svgOf(again(`<g style="` + strings.Repeat("a:b;", 5000) + `"/>`))), "refers to its own parts too often"},
		{"starts without curves", string(svgOf(`<path d="` + strings.Repeat("M0 0", maxCurves+1) + `"/>`)), "more than 200000 curves"},
		{"an entity that grows", `<!DOCTYPE svg [<!ENTITY a "` + strings.Repeat("a", 49) + `">]><svg xmlns="http://www.w3.org/2000/svg" id="&a;"/>`, "not well-formed XML"},
		{"no area", string(svgOf(`<path fill="none" stroke="black" d="M0 0L9 9"/>`)), "no filled outline in the drawing: it has a stroke but no fill"},
		{"nothing", string(svgOf(``)), "there is no filled outline"},
		{"white", string(svgOf(`<rect fill="white" width="5" height="5"/>`)), "all shapes of the drawing are white"},
		{"no M", string(svgOf(`<path id="p" d="L5 5"/>`)), `<path id="p">: the path data starts with "L"`},
		{"no number", string(svgOf(`<path d="M5 5L7 z"/>`)), `command "L": a number is missing at "z"`},
		{"NaN", string(svgOf(`<path d="M5 5LNaN 3"/>`)), "a number is missing at \"NaN 3\""},
		{"huge", string(svgOf(`<path d="M5 5L1e999 3"/>`)), "out of range"},
		{"huge after scaling", string(svgOf(`<g transform="scale(1e7)"><rect width="9" height="9"/></g>`)), "units from the origin"},
		{"flag", string(svgOf(`<path d="M0 0A5 5 0 2 1 9 9"/>`)), "flag must be 0 or 1"},
		{"unknown command", string(svgOf(`<path d="M0 0X5"/>`)), `command "X": there is no such command`},
		{"transform", string(svgOf(`<rect transform="roll(5)" width="1" height="1"/>`)), `transform "roll"`},
		{"unclosed transform", string(svgOf(`<rect transform="scale(5" width="1" height="1"/>`)), "not complete"},
		{"transform in a style", string(svgOf(`<rect style="transform: scale(2)" width="1" height="1"/>`)), "its transform stands in a style"},
		{"points", string(svgOf(`<polygon points="0,0 1,1 2"/>`)), "do not make pairs"},
		{"negative", string(svgOf(`<rect width="-1" height="1"/>`)), "below 0"},
		{"percent", string(svgOf(`<rect width="10%" height="1"/>`)), "cannot be worked out"},
		{"pentagram, even-odd", string(svgOf(`<path fill-rule="evenodd" d="M50 0L79 90L2 35H98L21 90z"/>`)), "contours cross each other"},
		{"viewBox", `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 0 5"><rect width="1" height="1"/></svg>`, "viewBox"},
		{"stretched", `<svg xmlns="http://www.w3.org/2000/svg" width="1in" height="1in" viewBox="0 0 2 1" preserveAspectRatio="none"><rect width="1" height="1"/></svg>`, "stretched"},
		{"a million points", string(svgOf(`<path d="M0 0` + strings.Repeat("l1 1", 1_000_000) + `"/>`)), "more than 200000 curves"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			d, err := Parse([]byte(tc.file), "a.svg")
			var r *Remark
			if !errors.As(err, &r) || !strings.Contains(r.Error(), tc.want) || r.Remedy == "" {
				t.Fatalf("error %v, want %q and a remedy", err, tc.want)
			}
			if len(d.Shapes) > 0 {
				t.Errorf("and yet %d shapes", len(d.Shapes))
			}
		})
	}
}

// Entities for the names of namespaces, as some drawing programs write them.
func TestNamespaceEntities(t *testing.T) {
	const file = `<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "svg11.dtd" [
	<!ENTITY ns_svg "http://www.w3.org/2000/svg">
	<!ENTITY ns_flows 'http://example.org/flows/'>
]><svg xmlns="&ns_svg;" xmlns:x="&ns_flows;" viewBox="0 0 9 9"><x:note><x:path d="broken"/></x:note><rect width="3" height="3"/></svg>`
	d, err := Parse([]byte(file), "a.svg")
	if err != nil || len(d.Shapes) != 1 || len(d.Remarks) != 0 {
		t.Errorf("%+v, error %v", d, err)
	}
}

// Ink that touches is one piece, whatever elements drew it; ink that does not
// is several, whatever element drew it. Holes stay with their piece, islands
// in holes are pieces of their own.
func TestPieces(t *testing.T) {
	d := parsed(t, `<path id="two" d="M60 0h10v10h-10zM40 0h10v10h-10z"/>
		<path id="ring" fill-rule="evenodd" d="M0 0H30V30H0zM5 5H25V25H5zM10 10H20V20H10zM12 12H18V18H12z"/>
		<rect id="bar" x="28" y="12" width="15" height="2"/>
		<rect id="bar2" x="42" y="8" width="2" height="6"/>`)
	ps, err := d.Pieces(2, geom.Vec{X: 1}, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, p := range ps {
		outer, holes := p.Ink.Pieces()
		got = append(got, fmt.Sprintf("%s %.0f %d-%d", strings.Join(p.IDs, "+"), p.Ink.Area()/4, outer, holes))
	}
	want := []string{"two+ring+bar+bar2 632 1-1", "two+ring+bar+bar2 64 1-1", "two+ring+bar+bar2 100 1-0"}
	if strings.Join(got, ", ") != strings.Join(want, ", ") {
		t.Errorf("got %v, want %v", got, want)
	}
}

// A drawing wrapped in a map of its plane is the mapped drawing, and no file
// is read to anything but finite coordinates within the bounds.
func FuzzArtwork(f *testing.F) {
	for _, s := range []string{
		`<path d="M10 10C20 0 30 0 40 10S50 30 60 20Q1 2 3 4T5 6A5 6 7 0 1 8 9Z" fill-rule="evenodd"/>`,
		`<style>.a{fill:none}</style><g class="a" transform="rotate(5)"><use href="#b"/><rect id="b" rx="1" width="9" height="9"/></g>`,
		`<svg viewBox="0 0 1 1" width="5" height="5"><polygon points="0,0 1,0 1,1"/></svg><text/>`,
		`<circle r="5" clip-path="url(#a)"/><ellipse rx="1" ry="2" style="fill:#fff"/>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, body string) {
		d, err := Parse(svgOf(body), "a.svg")
		if err != nil {
			var r *Remark
			if !errors.As(err, &r) || r.What == "" {
				t.Fatalf("error %v", err)
			}
			return
		}
		again, err := Parse(svgOf(`<g transform="translate(3 -4) scale(0.5)">`+body+`</g>`), "a.svg")
		if err != nil {
			return // a body that closes the group itself, or one beyond a bound once wrapped
		}
		for i, s := range d.Shapes {
			box := s.Outline.ControlBox()
			if !(max(-box.Min.X, -box.Min.Y, box.Max.X, box.Max.Y) <= maxCoord) {
				t.Fatalf("shape %d reaches %v", i, box)
			}
			if strings.Contains(body, "svg") || len(again.Shapes) != len(d.Shapes) {
				continue
			}
			want := geom.Rect{Min: geom.Point{X: box.Min.X/2 + 3, Y: box.Min.Y/2 + 4}, Max: geom.Point{X: box.Max.X/2 + 3, Y: box.Max.Y/2 + 4}}
			got := again.Shapes[i].Outline.ControlBox()
			near := 1e-9 * (10 + box.Width() + box.Height() + math.Abs(box.Min.X) + math.Abs(box.Min.Y))
			if got.Min.Dist(want.Min) > near || got.Max.Dist(want.Max) > near {
				t.Fatalf("shape %d is at %v, want %v", i, got, want)
			}
		}
	})
}
