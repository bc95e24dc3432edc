package main

import (
	"slices"
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/pattern/grade"
)

// The strokes of every outline face inside the program suit one line of tube:
// it was chosen for that.
func TestEmbeddedFacesSuitTube(t *testing.T) {
	for _, info := range fonts.Builtin() {
		face, err := fonts.Open(info.Name)
		if err != nil {
			t.Fatal(err)
		}
		all := face.Letters()
		if len(all) < 10 {
			t.Errorf("%s: %d letters to look at", info.Name, len(all))
			continue
		}
		var letters []grade.Letter
		for _, text := range []string{all[4], all[7], all[len(all)/2]} {
			l, err := traceLetter(face, text, 100/face.Metrics().CapHeight, 100)
			if err != nil {
				t.Fatal(err)
			}
			letters = append(letters, l)
		}
		if s := grade.StyleOf(letters, grade.MeasureWidths(letters, 100), 100); !s.SuitsOneLine() || (s == grade.Single) != face.IsSingleLine() {
			t.Errorf("%s: %v", info.Name, s)
		}
	}
}

// The faces that advice names are inside the program.
func TestAdvisedFacesExist(t *testing.T) {
	for _, name := range []string{grade.EvenFace, grade.EvenScript, grade.EvenArabic} {
		if _, err := fonts.Open(name); err != nil {
			t.Error(err)
		}
	}
}

func TestGradedLetters(t *testing.T) {
	face, err := fonts.Open("noto-kufi-arabic-extralight")
	if err != nil {
		t.Fatal(err)
	}
	own := gradedLetters(job.Value{}, face)
	if len(own) < 28 || !slices.Contains(own, "ب") || slices.Contains(own, "A") {
		t.Errorf("letters of the face's own script: %q", own)
	}
	if got := gradedLetters(job.Value{Text: "RYE\nRYE & ب"}, face); len(got) != 5 || got[4] != "ب" {
		t.Errorf("letters of a text: %q", got)
	}
}
