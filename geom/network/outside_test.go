package network

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"tubewright/geom"
)

// outsideCase is a graph of straight strokes and what other software says of
// it: odd nodes, least trails, and the least length doubled for one trail where
// the graph is of one part.
type outsideCase struct {
	Strokes     [][4]float64
	Odd, Trails int
	Doubled     *float64
}

// TestOutsideCases takes the cases of a file named by NETWORK_CASES, made by
// .ci/outside/routing.py; without it, one worked by hand: a T of three strokes
// has four odd nodes, two trails, and doubles its shortest arm.
func TestOutsideCases(t *testing.T) {
	arm := 3.0
	cases := []outsideCase{{Strokes: [][4]float64{{0, 0, 0, 5}, {0, 5, 4, 5}, {0, 5, -3, 5}}, Odd: 4, Trails: 2, Doubled: &arm}}
	if name := os.Getenv("NETWORK_CASES"); name != "" {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &cases); err != nil {
			t.Fatal(err)
		}
	}
	for i, c := range cases {
		var paths []geom.Path
		for _, s := range c.Strokes {
			paths = append(paths, polyline(s[:]...))
		}
		g := Build(paths, 1e-3)
		if len(g.Odd()) != c.Odd || g.Trails() != c.Trails {
			t.Errorf("case %d: %d odd nodes, %d trails; want %d, %d", i, len(g.Odd()), g.Trails(), c.Odd, c.Trails)
		}
		trails, err := g.Inspect(TrailsOnly())
		if err != nil || len(trails.Trails) != c.Trails {
			t.Errorf("case %d: %d trails run, %v; want %d", i, len(trails.Trails), err, c.Trails)
		}
		if c.Doubled == nil {
			continue
		}
		in, err := g.Inspect(DoubledOnly())
		if err != nil || !in.Exact || math.Abs(in.Doubled-*c.Doubled) > 1e-4 {
			t.Errorf("case %d: doubled %.6f, exact %v, %v; want %.6f", i, in.Doubled, in.Exact, err, *c.Doubled)
		}
	}
	t.Logf("%d cases", len(cases))
}
