package fonts

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"strings"
	"testing"

	"tubewright/geom"
)

// signText is what every face is asked for; lacking lists, face by face, what
// the font files honestly do not have.
const signText = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789&!?'-."

var lacking = map[string]string{
	"noto-kufi-arabic-extralight": signText, // Arabic only: its digits are ٠ to ٩
	"greeks":                      "YZyz",   // 24 letters on 26 keys
}

func TestCoverage(t *testing.T) {
	for _, i := range Builtin() {
		f := mustOpen(t, i.Name)
		for _, r := range signText {
			glyphs, err := f.Shape(string(r), ShapeOptions{Size: 100})
			if strings.ContainsRune(lacking[i.Name], r) {
				var missing *MissingCharacter
				if !errors.As(err, &missing) || missing.Rune != r || missing.Index != 0 || missing.Face != i.Name {
					t.Errorf("%s, which lacks %q: got error %v", i.Name, r, err)
				}
				continue
			}
			if err != nil {
				t.Error(err)
				continue
			}
			if len(glyphs[0].Outline) == 0 && len(glyphs[0].Strokes) == 0 {
				t.Errorf("%s draws nothing for %q", i.Name, r)
			}
		}
	}
	arabic := mustOpen(t, "noto-kufi-arabic-extralight")
	if _, err := arabic.Shape("ءآأؤإئابةتثجحخدذرزسشصضطظعغفقكلمنهوىي ٠١٢٣٤٥٦٧٨٩ ؟،؛", ShapeOptions{Size: 1}); err != nil {
		t.Error(err)
	}
}

// TestEveryFaceIsAccountedFor: each file in faces/ is a face or a licence of
// one, each licence text holds the words that matter, LICENCES.md has an entry
// with the copyright line and the reserved name, and the copyright line is the
// font's own.
func TestEveryFaceIsAccountedFor(t *testing.T) {
	list, err := os.ReadFile("LICENCES.md")
	if err != nil {
		t.Fatal(err)
	}
	used := map[string]bool{}
	for _, i := range Builtin() {
		used[i.File], used[i.LicenceFile] = true, true
		f := mustOpen(t, i.Name)
		text, words := f.Licence(), "SIL OPEN FONT LICENSE"
		if i.Kind == SingleLine {
			words = "Dr."
		}
		if i.Name == "quicksand-light" { // Debian gives the licence without its heading
			words = "The goals of the Open Font License (OFL)"
		}
		if !strings.Contains(text, words) || !strings.HasPrefix(text, i.Copyright) {
			t.Errorf("%s: licence text without %q or its copyright line", i.Name, words)
		}
		for _, want := range []string{i.File, i.LicenceFile, i.Copyright, i.Source, f.SHA256()} {
			if !strings.Contains(string(list), want) {
				t.Errorf("LICENCES.md does not have %q of %s", want, i.Name)
			}
		}
		if i.ReservedName != "" && !strings.Contains(i.Source, "unmodified") {
			t.Errorf("%s has a reserved name and is not unmodified", i.Name)
		}
		if f.font != nil && i.Name != "league-spartan-extralight" && strings.TrimSpace(f.font.Copyright()) != i.Copyright {
			t.Errorf("%s: the font says %q, the list %q", i.Name, f.font.Copyright(), i.Copyright)
		}
	}
	err = fs.WalkDir(faceFiles, "faces", func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && !used[d.Name()] {
			t.Errorf("%s belongs to no face", path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestOpen(t *testing.T) {
	for _, name := range []string{"comfortaa-light", "Comfortaa Light", " JURA-LIGHT "} {
		if _, err := Open(name); err != nil {
			t.Error(err)
		}
	}
	for _, tc := range []struct{ name, nearest string }{
		{"comforta-light", "comfortaa-light"},
		{"jura", "jura-light"},
		{"futura", "futural"},
		{"Playwrite DE LA", "playwrite-de-la-thin"},
		{"nothing like it", ""},
		{"", ""},
	} {
		_, err := Open(tc.name)
		var unknown *UnknownFace
		if !errors.As(err, &unknown) || unknown.Nearest != tc.nearest || len(unknown.All) != len(Builtin()) {
			t.Errorf("Open(%q): %v, want nearest %q", tc.name, err, tc.nearest)
			continue
		}
		for _, i := range Builtin() {
			if !strings.Contains(err.Error(), i.Name) {
				t.Errorf("Open(%q): %q does not list %s", tc.name, err, i.Name)
			}
		}
	}
}

// TestSizeForCapHeight: an H set at that size is as tall as asked.
func TestSizeForCapHeight(t *testing.T) {
	const want = 150 * geom.Millimetre
	for _, i := range Builtin() {
		if strings.Contains(lacking[i.Name], "H") {
			continue
		}
		f := mustOpen(t, i.Name)
		glyphs, err := f.Shape("H", ShapeOptions{Size: f.SizeForCapHeight(want)})
		if err != nil {
			t.Fatal(err)
		}
		box := glyphs[0].Outline.ControlBox()
		for _, s := range glyphs[0].Strokes {
			box = box.Union(s.Bounds())
		}
		if got := box.Height(); math.Abs(got-float64(want)) > 1e-3 {
			t.Errorf("%s: H is %g mm tall, want %g", i.Name, got, float64(want))
		}
	}
}

func TestMetricsAreInOrder(t *testing.T) {
	for _, i := range Builtin() {
		m := mustOpen(t, i.Name).Metrics()
		if !(m.Descender < 0 && 0.5 < m.CapHeight && m.CapHeight < m.Ascender+0.05 && m.LineGap >= 0 && m.UnitsPerEm > 0 && m.CapHeightFrom != "") {
			t.Errorf("%s: %+v", i.Name, m)
		}
	}
}

func TestParseOfOtherFaces(t *testing.T) {
	for _, tc := range []struct{ file, family, copyright string }{
		{"Pacifico-Regular.ttf", "Pacifico Regular", "Copyright 2018 The Pacifico Project Authors (https://github.com/googlefonts/Pacifico)"},
		{"BebasNeue-Book.otf", "Bebas Neue Book", "Copyright  2010 by Ryoichi Tsunekawa. All rights reserved."},
		{"Vibur-Regular.woff2", "Vibur", "Copyright (c) 2010, Johan Kallas (johan.kallas@gmail.com). All rights reserved. Licenced under SIL OFL v1.1"},
	} {
		data, err := os.ReadFile("../testdata/fonts/" + tc.file)
		if err != nil {
			t.Fatal(err)
		}
		f, err := Parse(data, "fonts/"+tc.file)
		if err != nil {
			t.Fatal(err)
		}
		if f.Family() != tc.family || f.Copyright() != tc.copyright || f.Licence() == "" || f.Name() != "fonts/"+tc.file || f.IsSingleLine() {
			t.Errorf("%s: family %q, copyright %q, licence %q", tc.file, f.Family(), f.Copyright(), f.Licence())
		}
	}
	_, err := Parse([]byte("Rye & Salt"), "menu.txt")
	if err == nil || err.Error() != `face "menu.txt": not a font: need a TTF, OTF or WOFF2 file` {
		t.Errorf("text as a font: %v", err)
	}
}

func ExampleFace_Shape() {
	face, err := Open("jura-light")
	if err != nil {
		panic(err)
	}
	glyphs, err := face.Shape("Rye", ShapeOptions{Size: face.SizeForCapHeight(150 * geom.Millimetre)})
	if err != nil {
		panic(err)
	}
	for _, g := range glyphs {
		fmt.Printf("%s at x = %.1f mm, %d contours\n", g.Text, g.Origin.X, len(g.Outline))
	}
	fmt.Printf("line %.1f mm long\n", Width(glyphs))
	// Output:
	// R at x = 0.0 mm, 2 contours
	// y at x = 137.9 mm, 1 contours
	// e at x = 276.1 mm, 2 contours
	// line 416.4 mm long
}
