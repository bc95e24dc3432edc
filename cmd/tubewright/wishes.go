package main

import (
	"maps"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern/route"
)

// routing is what a job asks of the routing, for letters that are set.
func routing(j job.Job, rows []row) route.Options {
	opt := route.Options{
		Apart: float64(j.EndsApart), Box: [2]float64{float64(j.LargestUnit[0]), float64(j.LargestUnit[1])},
		Grid: route.Grid{Pitch: float64(j.HoleGrid), At: geom.Point{X: float64(j.HoleGridAt[0]), Y: float64(j.HoleGridAt[1])}},
	}
	if j.Taste != job.Usual {
		opt.Taste = route.Taste(j.Taste)
	}
	for _, k := range j.KeepOuts {
		opt.KeepOuts = append(opt.KeepOuts, keepOut(k))
	}
	asked := map[int]route.Wish{}
	for _, k := range breaks(j, rows) {
		asked[k] = route.Wish{Letter: k, BreakBefore: true}
	}
	for _, w := range j.Letters {
		k := letterOf(j, w, rows)
		made := wish(w, k)
		made.BreakBefore = !made.JoinBefore && (made.BreakBefore || asked[k].BreakBefore)
		asked[k] = made
	}
	for _, k := range slices.Sorted(maps.Keys(asked)) {
		opt.Wishes = append(opt.Wishes, asked[k])
	}
	return opt
}

// breaks returns the letters before which the job breaks all its units.
func breaks(j job.Job, rows []row) []int {
	var out []int
	total := 0
	for n, r := range rows {
		line := []rune(j.Text[n])
		for i, g := range r.glyphs {
			first := i == 0 || slices.ContainsFunc(between(line, r.glyphs[i-1].Cluster, g.Cluster), unicode.IsSpace)
			if j.Break == job.AtLetters || j.Break == job.AtWords && first {
				out = append(out, total+i)
			}
		}
		total += len(r.glyphs)
	}
	return out
}

// letterOf returns the index, among all letters that are drawn, of the one a
// wish is about; past the last where its character draws nothing.
func letterOf(j job.Job, w job.LetterWish, rows []row) int {
	at := job.CharacterOf(j.Text[w.Line-1], w.Letter)
	index, total := -1, 0
	for n, r := range rows {
		best := -1
		for i, g := range r.glyphs {
			// A glyph may show several characters, and glyphs of scripts
			// written to the left stand in the order they are seen.
			if n == w.Line-1 && g.Cluster <= at && g.Cluster > best {
				best, index = g.Cluster, total+i
			}
		}
		total += len(r.glyphs)
	}
	if index < 0 {
		return total
	}
	return index
}

func wish(w job.LetterWish, letter int) route.Wish {
	out := route.Wish{
		Letter: letter, Order: w.Order, Double: w.Double, NoDouble: w.NoDouble,
		BreakBefore: w.Before == job.Break, JoinBefore: w.Before == job.Join,
		Open: map[string]geom.Vec{"top": {Y: 1}, "bottom": {Y: -1}, "left": {X: -1}, "right": {X: 1}}[w.Open],
	}
	for _, e := range w.Ends {
		number, side, _ := strings.Cut(e, " ")
		k, err := strconv.Atoi(number)
		if err != nil {
			panic(err) // job.Complete has read it
		}
		out.Ends = append(out.Ends, route.StrokeEnd{Stroke: k, AtEnd: side == job.End})
	}
	return out
}

func keepOut(k job.KeepOut) route.KeepOut {
	at := func(p [2]geom.Length) geom.Point { return geom.Point{X: float64(p[0]), Y: float64(p[1])} }
	out := route.KeepOut{Name: k.Name, Reach: float64(k.Gap + k.Radius)}
	switch {
	case len(k.Points) > 0:
		for _, p := range k.Points {
			out.Points = append(out.Points, at(p))
		}
	case k.Radius > 0:
		out.Points = []geom.Point{at(k.At)}
	default:
		a, w, h := at(k.At), geom.Vec{X: float64(k.Width)}, geom.Vec{Y: float64(k.Height)}
		out.Points, out.Filled = []geom.Point{a, a.Add(w), a.Add(w).Add(h), a.Add(h)}, true
	}
	return out
}

// between returns the characters from one to another, whichever way they are
// written.
func between(line []rune, a, b int) []rune {
	if a > b {
		a, b = b, a
	}
	return line[a:b]
}
