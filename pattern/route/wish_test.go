package route

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// sign is a row of plain letters.
func sign(text string) []Stroke {
	var ss []Stroke
	for i, r := range text {
		for _, s := range moved(letters()[string(r)], geom.SimilarityMap{Scale: 1, Move: geom.Vec{X: 150 * float64(i)}}) {
			s.Letter, s.Text = i, string(r)
			ss = append(ss, s)
		}
	}
	return named(ss...)
}

func total(r Result, term string) float64 {
	var n float64
	for _, unit := range r.Costs {
		for _, t := range unit {
			if t.Name == term {
				n += t.Amount
			}
		}
	}
	return n
}

// lines is sign for words under each other.
func lines(words ...string) []Stroke {
	var ss []Stroke
	for i, w := range words {
		for _, s := range moved(sign(w), geom.SimilarityMap{Scale: 1, Move: geom.Vec{Y: -250 * float64(i)}}) {
			s.Line, s.Letter = i, s.Letter+100*i
			ss = append(ss, s)
		}
	}
	return named(ss...)
}

// Each taste against the others, over signs and longest units: none has less of
// its own term in all, and against the usual taste it is less by a tenth.
func TestEachTasteMovesItsOwnTerm(t *testing.T) {
	sums := map[Taste]map[string]float64{}
	for _, taste := range []Taste{TasteUsual, TasteFewestElectrodes, TasteLeastPaint, TasteFewestBends} {
		sums[taste] = map[string]float64{}
		for _, words := range [][]string{{"HEATXK"}, {"EKTA"}, {"XKH", "AL"}, {"EE", "EE", "H"}} {
			for _, longest := range []float64{900, 1300, 1800, 3600} {
				rules := glass.Default(12)
				rules.MaxUnit = longest
				r := Plan(lines(words...), rules, Options{Taste: taste})
				if worst(r.Findings) == finding.Error {
					t.Errorf("%s, %q: %s", words, taste, r.Findings[0].Message())
				}
				sums[taste]["paint"] += total(r, "paint")
				sums[taste]["bends"] += total(r, "bend") + total(r, "double-back")
				sums[taste]["electrodes"] += total(r, "electrodes")
			}
		}
	}
	for own, term := range map[Taste]string{TasteFewestElectrodes: "electrodes", TasteLeastPaint: "paint", TasteFewestBends: "bends"} {
		for taste, sum := range sums {
			if sum[term] < sums[own][term] {
				t.Errorf("%s: %.0f with the taste for it, %.0f with %q", term, sums[own][term], sum[term], taste)
			}
		}
		if sums[own][term] > 0.9*sums[TasteUsual][term] {
			t.Errorf("%s: %.0f with the taste for it, %.0f as usual", term, sums[own][term], sums[TasteUsual][term])
		}
	}
	t.Log(sums)
}

func TestTheReportCountsTheGlass(t *testing.T) {
	r := Plan(sign("HEAT"), glass.Default(12), Options{})
	var hidden float64
	for _, tb := range r.Tubes {
		hidden += tb.LengthOf(1)
	}
	if got := total(r, "hidden"); got < hidden-1e-6 || got > hidden+1e-6 {
		t.Errorf("the report has %.3f mm hidden, the tubes %.3f", got, hidden)
	}
	if got := int(total(r, "electrodes")); got != len(r.Tubes) {
		t.Errorf("%d pairs of electrodes for %d units", got, len(r.Tubes))
	}
}

func TestTheBendersOrderIsKept(t *testing.T) {
	want := []string{"s2", "s3", "s1"}
	r := Plan(sign("H"), glass.Default(12), Options{Wishes: []Wish{{Letter: 0, Order: []int{-2, 3, 1}}}})
	got := strokesOf(r.Tubes[0])
	if !slices.Equal(got, want) {
		t.Fatalf("strokes bent in the order %v, asked %v", got, want)
	}
	first := r.Tubes[0][1].Seg.Start()
	if first.Y > 69 { // stroke 2 was drawn downward; asked backwards, it starts at the foot
		t.Errorf("the tube starts at %v, asked to start at the foot of stroke 2", first)
	}
}

func TestBreaksAndJoinsAsAsked(t *testing.T) {
	r := Plan(sign("LL"), glass.Default(12), Options{Wishes: []Wish{{Letter: 1, BreakBefore: true}}})
	if len(r.Tubes) != 2 {
		t.Errorf("%d units, a break was asked for", len(r.Tubes))
	}
	rules := glass.Default(12)
	rules.MaxUnit = 500
	r = Plan(sign("LL"), rules, Options{Wishes: []Wish{{Letter: 1, JoinBefore: true}}})
	if !has(r.Findings, "wish-not-possible") {
		t.Errorf("a join that cannot be: findings %v", r.Findings)
	}
}

// A unit runs from line to line where that is asked, and the shorter way round
// where electrodes are to be few.
func TestLinesAreJoinedAsAsked(t *testing.T) {
	rules := glass.Default(12)
	rules.MaxUnit = 6000
	text := lines("LIL", "LL")
	for _, c := range []struct {
		options Options
		units   int
	}{
		{Options{}, 2},
		{Options{Wishes: []Wish{{Letter: 100, JoinBefore: true}}}, 1},
		{Options{Taste: TasteFewestElectrodes}, 1},
		{Options{Taste: TasteFewestElectrodes, Wishes: []Wish{{Letter: 100, BreakBefore: true}}}, 2},
	} {
		r := Plan(text, rules, c.options)
		if len(r.Tubes) != c.units || worst(r.Findings) == finding.Error {
			t.Errorf("%+v: %d units, want %d; %v", c.options, len(r.Tubes), c.units, r.Findings)
		}
	}
	there := Plan(text, rules, Options{Wishes: []Wish{{Letter: 100, JoinBefore: true}}})
	back := Plan(text, rules, Options{Taste: TasteFewestElectrodes})
	if a, b := total(there, "hidden"), total(back, "hidden"); b > a-150 {
		t.Errorf("%.0f mm of hidden glass the shorter way round, %.0f mm in reading order", b, a)
	}
}

// boustrophedon against every choice of direction.
func TestTurnedLinesAgainstBruteForce(t *testing.T) {
	draw := rand.New(rand.NewSource(7))
	for range 60 {
		var ss []Stroke
		n := 2 + draw.Intn(4)
		for i := range n {
			for k := range 1 + draw.Intn(3) {
				s := stroke(10*i+k, 0, 0, 0, 100)
				s.Line = i
				s.Path = moved([]Stroke{s}, geom.SimilarityMap{Scale: 1, Move: geom.Vec{X: 400 * draw.Float64(), Y: -200 * float64(i)}})[0].Path
				ss = append(ss, s)
			}
		}
		p := newPlanner(named(ss...), glass.Default(12))
		runs := p.makeRuns()
		lines := p.byLine(runs)
		best := math.Inf(1)
		for mask := range 1 << n {
			var turned [][][]int
			for i, l := range lines {
				l = slices.Clone(l)
				if mask&(1<<i) != 0 {
					slices.Reverse(l)
				}
				turned = append(turned, l)
			}
			best = min(best, betweenLines(p, runs, turned))
		}
		if got := betweenLines(p, runs, p.boustrophedon(runs, lines)); got > best+1e-6 {
			t.Errorf("%.3f, the least is %.3f", got, best)
		}
	}
}

func betweenLines(p *planner, runs []run, lines [][][]int) float64 {
	var sum float64
	for i := 1; i < len(lines); i++ {
		before := lines[i-1]
		sum += p.between(runs, before[len(before)-1], lines[i][0])
	}
	return sum
}

func TestWishesThatCannotBeReadAreFound(t *testing.T) {
	for _, w := range []Wish{{Letter: 7, BreakBefore: true}, {Letter: 0, Double: []int{4}}, {Letter: 0, Ends: []StrokeEnd{{Stroke: 9}}}, {Letter: 0, Open: geom.Vec{Y: 1}}, {Letter: 0, JoinBefore: true}, {Letter: 0, Order: []int{1, 1, 2}}, {Letter: 0, Order: []int{1, 2, 4}}} {
		if r := Plan(sign("H"), glass.Default(12), Options{Wishes: []Wish{w}}); !has(r.Findings, "wish-not-possible") {
			t.Errorf("%+v: findings %v", w, r.Findings)
		}
	}
}

func has(fs []finding.Finding, code string) bool {
	for _, f := range fs {
		if f.Code == code {
			return true
		}
	}
	return false
}

// strokesOf lists the strokes a tube lights, in order.
func strokesOf(t tube.Tube) []string {
	var out []string
	for _, piece := range t {
		if id := piece.Stroke; id != "" && (len(out) == 0 || out[len(out)-1] != id) {
			out = append(out, id)
		}
	}
	return out
}

// An order that names some strokes is completed: those come in their order,
// each from the side asked, and the letter costs no more than the worst full
// order that agrees with it.
func TestAnOrderOfSomeStrokesIsCompleted(t *testing.T) {
	for _, order := range [][]int{{3}, {-3}, {3, 1}, {2, -1}} {
		r := Plan(sign("H"), glass.Default(12), Options{Wishes: []Wish{{Order: order}}})
		got := strokesOf(r.Tubes[0])
		at := -1
		for _, k := range order {
			next := slices.Index(got, []string{"s1", "s2", "s3"}[abs(k)-1])
			if next <= at {
				t.Errorf("order %v asked: bent %v", order, got)
			}
			at = next
		}
		if len(got) != 3 || len(r.Tubes) != 1 || worst(r.Findings) > finding.Note {
			t.Errorf("order %v asked: bent %v in %d units, findings %v", order, got, len(r.Tubes), r.Findings)
		}
	}
}

func TestAnElectrodeStandsWhereAsked(t *testing.T) {
	for _, n := range names() {
		if n == "O" {
			continue
		}
		ss := letters()[n]
		for k, s := range ss {
			for _, at := range []geom.Point{s.Path.Start(), s.Path.End()} {
				r := Plan(ss, glass.Default(12), Options{Wishes: []Wish{{Ends: []StrokeEnd{{Stroke: k + 1, AtEnd: at == s.Path.End()}}}}})
				near := math.Inf(1)
				for _, tb := range r.Tubes {
					near = min(near, tb.Start().Plan().Dist(at), tb.End().Plan().Dist(at))
				}
				if near > 25 || worst(r.Findings) > finding.Note { // an end may be trimmed
					t.Errorf("%s stroke %d: an electrode asked at %v stands %.0f mm off; findings %v", n, k+1, at, near, r.Findings)
				}
			}
		}
	}
}

// Every doubling asked for or forbidden is seen in the glass, or denied.
func TestDoublingsAsAsked(t *testing.T) {
	done := 0
	for _, n := range names() {
		ss := letters()[n]
		for k := range ss {
			for _, w := range []Wish{{Double: []int{k + 1}}, {NoDouble: []int{k + 1}}} {
				r := Plan(ss, glass.Default(12), Options{Wishes: []Wish{w}})
				p := newPlanner(ss, glass.Default(12))
				var c cover
				for _, way := range hiddenWays(r.Tubes) {
					d := p.doubledBy(way, []int{k})[0]
					c.doubled, c.share = c.doubled || d.doubled, max(c.share, d.share)
				}
				denied := has(r.Findings, wishDenied)
				if want := c.share >= doubledPart; len(w.Double) > 0 && want == denied {
					t.Errorf("%s %+v: %.2f of the stroke doubled, denied %v", n, w, c.share, denied)
				}
				if len(w.NoDouble) > 0 && c.doubled != denied {
					t.Errorf("%s %+v: doubled %v, denied %v", n, w, c.doubled, denied)
				}
				if !denied {
					done++
				}
			}
		}
	}
	if done < 25 {
		t.Errorf("only %d wishes were granted", done)
	}
}

func TestARingIsOpenedTheWayAsked(t *testing.T) {
	for _, v := range []geom.Vec{{Y: 1}, {Y: -1}, {X: 1}, {X: -1}} {
		r := Plan(letters()["O"], glass.Default(12), Options{Wishes: []Wish{{Open: v}}})
		at := r.Tubes[0].Start().Plan().Sub(geom.Point{X: 60, Y: 69})
		if at.Dot(v) < 60 {
			t.Errorf("asked %v, opened at %v from the middle", v, at)
		}
	}
}

func TestElectrodesKeepOutAndStandOnTheGrid(t *testing.T) {
	clear := Options{}
	for _, n := range names() {
		plain := Plan(letters()[n], glass.Default(12), clear)
		at := plain.Tubes[0].Start().Plan()
		stud := KeepOut{Points: []geom.Point{at.Add(geom.Vec{X: -10, Y: -10}), at.Add(geom.Vec{X: 10, Y: -10}), at.Add(geom.Vec{X: 10, Y: 10}), at.Add(geom.Vec{X: -10, Y: 10})}, Filled: true}
		seam := KeepOut{Points: []geom.Point{{X: -500, Y: at.Y}, {X: 500, Y: at.Y}}, Reach: 5}
		for _, opt := range []Options{
			{KeepOuts: []KeepOut{stud}}, {KeepOuts: []KeepOut{seam}}, {KeepOuts: []KeepOut{{Points: []geom.Point{at}, Reach: 20}}},
			{Grid: Grid{Pitch: 25, At: geom.Point{X: 3, Y: 4}}}, {Grid: Grid{Pitch: 25}, KeepOuts: []KeepOut{stud}},
		} {
			r := Plan(letters()[n], glass.Default(12), opt)
			if worst(r.Findings) > finding.Note {
				t.Errorf("%s %+v: %s", n, opt, r.Findings[0].Message())
			}
			for _, tb := range r.Tubes {
				for _, e := range []geom.Point{tb.Start().Plan(), tb.End().Plan()} {
					for _, k := range opt.KeepOuts {
						if d := k.distance(e); d < 12-1e-6 {
							t.Errorf("%s: an electrode at %v is %.1f mm from the keep-out %+v", n, e, d, k)
						}
					}
					if g := opt.Grid; g.Pitch > 0 && (offGrid(e.X-g.At.X, g.Pitch) > seatNear || offGrid(e.Y-g.At.Y, g.Pitch) > seatNear) {
						t.Errorf("%s: an electrode at %v is off the grid %+v", n, e, g)
					}
				}
			}
		}
	}
	everywhere := Options{KeepOuts: []KeepOut{{Points: []geom.Point{{X: 50, Y: 70}}, Reach: 900}}}
	if r := Plan(letters()["E"], glass.Default(12), everywhere); !has(r.Findings, "electrode-place") {
		t.Errorf("no place is left for an electrode: findings %v", r.Findings)
	}
}

func offGrid(v, pitch float64) float64 { return math.Abs(v - pitch*math.Round(v/pitch)) }

func TestElectrodesNearEachOtherAreNoted(t *testing.T) {
	if r := Plan(letters()["O"], glass.Default(12), Options{Apart: 38}); !has(r.Findings, "electrodes-near") {
		t.Errorf("a ring's ends: findings %v", r.Findings)
	}
	if r := Plan(letters()["L"], glass.Default(12), Options{Apart: 38}); has(r.Findings, "electrodes-near") {
		t.Errorf("the ends of an L: findings %v", r.Findings)
	}
}

// Distances from shapes worked out by hand.
func TestDistanceFromKeepOuts(t *testing.T) {
	square := []geom.Point{{}, {X: 10}, {X: 10, Y: 10}, {Y: 10}}
	for _, c := range []struct {
		k    KeepOut
		q    geom.Point
		want float64
	}{
		{KeepOut{Points: square, Filled: true}, geom.Point{X: 5, Y: 5}, 0},
		{KeepOut{Points: square, Filled: true}, geom.Point{X: 13, Y: 14}, 5},
		{KeepOut{Points: square, Filled: true, Reach: 2}, geom.Point{X: 13, Y: 14}, 3},
		{KeepOut{Points: square}, geom.Point{X: 3, Y: 5}, 5}, // the side on the left is not drawn
		{KeepOut{Points: square[:1], Reach: 4}, geom.Point{X: 3, Y: 4}, 1},
	} {
		if got := c.k.distance(c.q); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v from %v: %g, want %g", c.k, c.q, got, c.want)
		}
	}
}
