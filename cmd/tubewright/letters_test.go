package main

import (
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom/network"
	"tubewright/pattern"
	"tubewright/pattern/finding"
	"tubewright/pattern/tube"
)

// links counts the hidden runs between lit glass.
func links(p pattern.Pattern) int {
	n := 0
	for _, u := range p.Units {
		lit, dark := false, false
		for _, piece := range u.Tube {
			switch piece.Role {
			case tube.Hidden:
				dark = lit
			case tube.Lit:
				if dark {
					n++
				}
				lit, dark = true, false
			}
		}
	}
	return n
}

// The known letters: a letter is one unit, and has as many hidden links as its
// skeleton asks for: half its odd nodes, less one (Listing 1847; trails are counted
// on the strokes as drawn).
//
// Q has one more. By the graph one trail runs from its tail into the ring and
// back into the tail; glass cannot turn by 130 degrees twice in the one place
// where it crosses itself.
func TestKnownLettersHaveTheLinksOfTheory(t *testing.T) {
	pairings := map[rune]int{'A': 1, 'E': 1, 'F': 1, 'T': 1, 'X': 1, 'Y': 1, 'H': 2, 'K': 2, 'R': 1} // counted by hand on the face
	extra := map[rune]int{'Q': 1}
	for _, r := range "ABCDEFGHIJKLMNOPQRSTUVWXYZ&0123456789" {
		j, err := job.Complete(job.Values{"text": {Text: string(r)}, "font": {Text: "futural"}, "height": {Text: "200mm"}})
		if err != nil {
			t.Fatal(err)
		}
		p, err := makePattern(j)
		if err != nil {
			t.Fatal(err)
		}
		theory := network.Build(p.Spec.Letters[0].Strokes, 0.5).Trails() - 1
		if theory != pairings[r] {
			t.Errorf("%c: %d pairings by the graph, %d by hand", r, theory, pairings[r])
		}
		if n := links(p); n != theory+extra[r] || len(p.Units) != 1 {
			t.Errorf("%c: %d links in %d units, want %d in one", r, n, len(p.Units), theory+extra[r])
		}
		for _, f := range p.Findings {
			if f.Severity == finding.Error {
				t.Errorf("%c: %s", r, f.Message())
			}
		}
		if !p.Search.Exact {
			t.Errorf("%c: the order was not found exactly", r)
		}
	}
}
