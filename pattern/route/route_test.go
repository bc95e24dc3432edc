package route

import (
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// stroke makes a stroke of straights with corners rounded to 1.27 D.
func stroke(letter int, pts ...float64) Stroke {
	var vs []tube.Vertex
	for i := 0; i < len(pts); i += 2 {
		vs = append(vs, tube.Vertex{P: geom.Point3{X: pts[i], Y: pts[i+1]}, R: 15.24})
	}
	segs, err := tube.Fillet(vs)
	if err != nil {
		panic(err)
	}
	var p geom.Path
	for _, s := range segs {
		switch s := s.(type) {
		case geom.Line3:
			p.Segments = append(p.Segments, geom.Line{A: s.A.Plan(), B: s.B.Plan()})
		case geom.Arc3:
			sweep := s.Angle
			if s.Axis.Z < 0 {
				sweep = -sweep
			}
			p.Segments = append(p.Segments, geom.Arc{Centre: s.Centre.Plan(), Radius: s.Radius(), From: s.From.Plan().Heading(), Sweep: sweep})
		}
	}
	return Stroke{Letter: letter, Path: p}
}

func named(ss ...Stroke) []Stroke {
	for i := range ss {
		ss[i].ID = fmt.Sprintf("s%d", i+1)
	}
	return ss
}

// Letters of 150 mm outside height for a 12 mm tube: centreline height 138.
func letters() map[string][]Stroke {
	return map[string][]Stroke{
		"E": named(stroke(0, 80, 138, 0, 138, 0, 0, 80, 0), stroke(0, 0, 69, 70, 69)),
		"H": named(stroke(0, 0, 138, 0, 0), stroke(0, 96, 138, 96, 0), stroke(0, 0, 69, 96, 69)),
		"T": named(stroke(0, 0, 138, 90, 138), stroke(0, 45, 138, 45, 0)),
		"X": named(stroke(0, 0, 138, 96, 0), stroke(0, 96, 138, 0, 0)),
		"A": named(stroke(0, 0, 0, 55, 158, 110, 0), stroke(0, 20, 45, 90, 45)),
		"K": named(stroke(0, 0, 0, 0, 138), stroke(0, 90, 138, 0, 60), stroke(0, 28, 84, 90, 0)),
		"L": named(stroke(0, 0, 138, 0, 0, 70, 0)),
		"O": {{ID: "s1", Path: geom.Path{Segments: []geom.Segment{geom.Arc{Centre: geom.Point{X: 60, Y: 69}, Radius: 69, Sweep: 2 * math.Pi}}, Closed: true}}},
	}
}

func names() []string { return []string{"A", "E", "H", "K", "L", "O", "T", "X"} }

func worst(fs []finding.Finding) finding.Severity { w, _ := finding.Worst(fs); return w }

func TestPlainLettersAreBentWithoutFindings(t *testing.T) {
	for _, n := range names() {
		r := Plan(letters()[n], glass.Default(12), Options{})
		if worst(r.Findings) > finding.Note {
			t.Errorf("%s: %s", n, r.Findings[0].Message())
		}
		if len(r.Tubes) != 1 {
			t.Errorf("%s: %d units, want 1", n, len(r.Tubes))
		}
	}
}

func TestTubesAreContinuousAndEndInLegs(t *testing.T) {
	for _, n := range names() {
		for _, tb := range Plan(letters()[n], glass.Default(12), Options{}).Tubes {
			if tb[0].Role != tube.Leg || tb[len(tb)-1].Role != tube.Leg {
				t.Errorf("%s: the tube does not end in legs", n)
			}
			for i := 1; i < len(tb); i++ {
				a, b := tb[i-1].Seg, tb[i].Seg
				gap, turn := a.End().Dist(b.Start()), a.DirAt(a.Length()).AngleTo(b.DirAt(0)).Degrees()
				if gap > 1e-6 || turn > 0.1 {
					t.Errorf("%s: piece %d: gap %.2g mm, corner %.3f degrees", n, i, gap, turn)
				}
			}
		}
	}
}

func moved(ss []Stroke, m geom.SimilarityMap) []Stroke {
	out := make([]Stroke, len(ss))
	for i, s := range ss {
		out[i] = s
		out[i].Path = s.Path.Map(m)
	}
	return out
}

// The glass of a letter is the same wherever it stands, and its mirror image
// takes the same glass: lengths do not change.
func TestTheGlassDoesNotDependOnPlaceOrHand(t *testing.T) {
	for _, n := range names() {
		if n == "O" {
			continue // a ring is cut at its lowest place, which moves with a turn
		}
		want := Plan(letters()[n], glass.Default(12), Options{}).Tubes[0].Length()
		for _, m := range []geom.SimilarityMap{
			{Scale: 1, Move: geom.Vec{X: 1234.5, Y: -77}},
			{Scale: 1, Mirror: true},
			{Scale: 1, Turn: 0.4},
		} {
			got := Plan(moved(letters()[n], m), glass.Default(12), Options{}).Tubes[0].Length()
			if math.Abs(got-want) > 3 { // ends step back by half a millimetre at a time
				t.Errorf("%s under %+v: %.2f mm of glass, %.2f before", n, m, got, want)
			}
		}
	}
}

func TestScalingSignAndTubeTogetherScalesTheGlass(t *testing.T) {
	rules := glass.Default(12)
	for _, n := range names() {
		small := Plan(letters()[n], rules, Options{}).Tubes[0]
		big := glass.Default(24)
		big.Leg, big.MaxUnit, big.HeatLength = 2*rules.Leg, 2*rules.MaxUnit, 2*rules.HeatLength
		large := Plan(moved(letters()[n], geom.SimilarityMap{Scale: 2}), big, Options{}).Tubes[0]
		if got, want := large.Length(), 2*small.Length(); math.Abs(got-want) > 6 {
			t.Errorf("%s twice as large takes %.1f mm, want %.1f", n, got, want)
		}
	}
}

func TestSamePlanEveryTime(t *testing.T) {
	for _, n := range names() {
		if a, b := Plan(letters()[n], glass.Default(12), Options{}), Plan(letters()[n], glass.Default(12), Options{}); !reflect.DeepEqual(a, b) {
			t.Errorf("%s: two runs differ", n)
		}
	}
}

func TestTwoStrandsTooCloseAreFound(t *testing.T) {
	r := Plan(named(stroke(0, 0, 0, 0, 138), stroke(0, 15, 0, 15, 138)), glass.Default(12), Options{})
	for _, f := range r.Findings {
		if f.Code == "too-near" && f.Severity == finding.Error && math.Abs(f.Got-15) < 0.1 {
			return
		}
	}
	t.Errorf("two parallel strands 15 mm apart, 18 needed: findings %v", r.Findings)
}

func TestLongSignsAreCutIntoEvenUnits(t *testing.T) {
	var ss []Stroke
	for i := range 12 {
		ss = append(ss, moved(letters()["L"], geom.SimilarityMap{Scale: 1, Move: geom.Vec{X: 110 * float64(i)}})...)
		ss[i].Letter = i
	}
	rules := glass.Default(12)
	r := Plan(named(ss...), rules, Options{})
	var least, most, sum float64
	for i, tb := range r.Tubes {
		n := tb.Length()
		sum += n
		if i == 0 || n < least {
			least = n
		}
		most = max(most, n)
	}
	if most > rules.MaxUnit || len(r.Tubes) != int(math.Ceil(sum/rules.MaxUnit)) || least < 0.6*most {
		t.Errorf("%d units from %.0f to %.0f mm, together %.0f", len(r.Tubes), least, most, sum)
	}
}

// Random runs of up to five in up to two letters: labels over subsets find
// what trying every order, direction and cut finds.
func TestChainAgreesWithBruteForce(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		runs, line := randomLine(rt, rapid.IntRange(1, 5).Draw(rt, "runs"))
		p := looseRuns(runs)
		p.rules.MaxUnit = rapid.Float64Range(400, 2400).Draw(rt, "longest")
		c := p.newChainer(runs, line, try{longest: p.rules.MaxUnit})
		got := c.cheapest(line, c.fewest(line))
		c.most = 0
		want := bruteForce(c, line, &label{}, 0, map[int]bool{})
		if got.units != want.units || math.Abs(got.cost-want.cost) > 1e-6 {
			rt.Fatalf("%d units at %g, brute force %d at %g", got.units, got.cost, want.units, want.cost)
		}
		chain := got.steps()
		order, cuts := chain.order, chain.cuts
		if len(order) != len(runs) || len(cuts) != got.units || cuts[0] != 0 {
			rt.Fatalf("order %v cut at %v for %d runs in %d units", order, cuts, len(runs), got.units)
		}
	})
}

// On sizes that can still be solved exactly, the search used above them is
// within 2 % at worst and 0.5 % on average.
func TestSearchIsNearTheOptimum(t *testing.T) {
	var sum, most float64
	draw := rand.New(rand.NewPCG(2026, 11))
	const n = 300
	for k := range n {
		runs, letter := scattered(draw, 8+k%5)
		g := &net{n: len(runs), w: looseRuns(runs).endCosts(runs, letter)}
		exact := leastOf(countDown(g.w))
		found := g.search()[0]
		if len(found) != len(runs) || !eachOnce(found) {
			t.Fatalf("order %v of %d runs", found, len(runs))
		}
		excess := g.cost(found)/exact - 1
		sum, most = sum+excess, max(most, excess)
		if excess < -1e-9 {
			t.Fatalf("the search found %g, under the exact %g", g.cost(found), exact)
		}
	}
	if mean := sum / n; most > 0.02 || mean > 0.005 {
		t.Errorf("over %d cases the search is %.2f %% over the optimum on average, %.2f %% at worst", n, 100*mean, 100*most)
	} else {
		t.Logf("over %d cases the search is %.3f %% over the optimum on average, %.2f %% at worst", n, 100*mean, 100*most)
	}
}

func eachOnce(r round) bool {
	seen := map[int]bool{}
	for _, e := range r {
		seen[e/2] = true
	}
	return len(seen) == len(r)
}

// looseRuns is a planner whose runs lie in letters of their own, so that only
// jumps join them.
func looseRuns(runs []run) *planner {
	p := newPlanner(make([]Stroke, len(runs)), glass.Default(12))
	for i := range runs {
		runs[i].lane, p.lanes[i].Letter = i, i
	}
	return p
}

func randomLine(rt *rapid.T, n int) ([]run, [][]int) {
	coord := rapid.Float64Range(0, 300)
	runs := make([]run, n)
	split := rapid.IntRange(0, n).Draw(rt, "split")
	var line [][]int
	for i := range runs {
		for side := range 2 {
			runs[i].place[side] = geom.Point{X: coord.Draw(rt, "x"), Y: coord.Draw(rt, "y")}
		}
		runs[i].len = runs[i].place[0].Dist(runs[i].place[1])
		if i == 0 || i == split {
			line = append(line, nil)
		}
		line[len(line)-1] = append(line[len(line)-1], i)
	}
	return runs, line
}

func bruteForce(c *chainer, line [][]int, l *label, letter int, used map[int]bool) *label {
	for letter < len(line) {
		done := true
		for _, r := range line[letter] {
			done = done && used[r]
		}
		if !done {
			break
		}
		letter++
	}
	if letter == len(line) {
		return l
	}
	var best *label
	for _, r := range line[letter] {
		if used[r] {
			continue
		}
		used[r] = true
		for side := range 2 {
			for _, m := range c.after(l, step{r, side}) {
				b := bruteForce(c, line, m, letter, used)
				if best == nil || b.units < best.units || b.units == best.units && b.cost < best.cost {
					best = b
				}
			}
		}
		used[r] = false
	}
	return best
}

// row is n plain letters in one line.
func row(n int) []Stroke {
	text := make([]byte, n)
	for i := range text {
		text[i] = "HEATXKLEAH"[i%10]
	}
	return sign(string(text))
}

func benchmarkLetters(b *testing.B, n int) {
	ss := row(n)
	for b.Loop() {
		Plan(ss, glass.Default(12), Options{})
	}
}

func BenchmarkTenLetters(b *testing.B)      { benchmarkLetters(b, 10) }
func BenchmarkHundredLetters(b *testing.B)  { benchmarkLetters(b, 100) }
func BenchmarkThousandLetters(b *testing.B) { benchmarkLetters(b, 1000) }

// A joined hand of 20 letters: a wave with a loop to each, in strokes that touch.
func BenchmarkScriptWord(b *testing.B) {
	var ss []Stroke
	for i := range 20 {
		x := 90 * float64(i)
		loop := geom.Path{Segments: []geom.Segment{
			geom.Arc{Centre: geom.Point{X: x + 45, Y: 50}, Radius: 40, From: math.Pi, Sweep: 2 * math.Pi},
		}, Closed: true}
		ss = append(ss, Stroke{Letter: 0, Path: loop}, stroke(0, x, 0, x+90, 0), stroke(0, x+85, 0, x+85, 90))
	}
	ss = named(ss...)
	for b.Loop() {
		Plan(ss, glass.Default(12), Options{})
	}
}
