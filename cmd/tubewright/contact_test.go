package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/geom"
)

// contactRows is what a face is looked at in: joined rows for Arabic, whose
// letters change with their neighbours.
func contactRows(face string) []string {
	if face == "noto-kufi-arabic-extralight" {
		return []string{"ابتثجحخدذرزس", "شصضطظعغفقكلم", "نهوىيءآأؤإئة", "خبز وملح لا", "٠١٢٣٤٥٦٧٨٩"}
	}
	return []string{"ABCDEFGHIJKLM", "NOPQRSTUVWXYZ", "abcdefghijklm", "nopqrstuvwxyz", "0123456789&!?'-."}
}

// TestContactSheets traces every letter of every embedded outline face and
// writes one SVG a face into the folder that TUBEWRIGHT_CONTACT names, for a
// person to look at letter by letter; without it, into a folder that goes with
// the test. Every letter gives strokes whose sweep covers the ink, or a note
// that says why not.
func TestContactSheets(t *testing.T) {
	dir := os.Getenv("TUBEWRIGHT_CONTACT")
	if dir == "" {
		dir = t.TempDir()
	}
	for _, info := range fonts.Builtin() {
		face, err := fonts.Open(info.Name)
		if err != nil {
			t.Fatal(err)
		}
		if face.IsSingleLine() {
			continue // strokes as they are
		}
		j := job.Job{Text: contactRows(info.Name), Font: info.Name, Height: 100 * geom.Millimetre, LineSpacing: 180 * geom.Millimetre, LetterSpacing: 12 * geom.Millimetre}
		if !face.Has('A') {
			j.LetterSpacing = 0 // joined letters
		}
		got, err := traceText(j, face)
		if err != nil {
			t.Errorf("%s: %v", info.Name, err)
			continue
		}
		for _, g := range got.glyphs {
			switch {
			case len(g.strokes) == 0:
				t.Errorf("%s: %q has no strokes", info.Name, g.text)
			case len(g.found.Notes) == 0 && (g.found.Coverage < 0.97 || g.found.Spill > 0.03):
				t.Errorf("%s: %q is covered to %.1f %% with %.1f %% outside, and no note says why", info.Name, g.text, 100*g.found.Coverage, 100*g.found.Spill)
			}
		}
		var b bytes.Buffer
		if err := got.writeSVG(&b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s.svg", info.Name)), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
