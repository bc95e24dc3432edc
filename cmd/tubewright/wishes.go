package main

import (
	"strconv"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern/route"
)

// routing is what a job asks of the routing, for letters that are set.
func routing(j job.Job, rows []row) route.Options {
	opt := route.Options{
		Apart: float64(j.EndsApart),
		Grid:  route.Grid{Pitch: float64(j.HoleGrid), At: geom.Point{X: float64(j.HoleGridAt[0]), Y: float64(j.HoleGridAt[1])}},
	}
	if j.Taste != job.Usual {
		opt.Taste = route.Taste(j.Taste)
	}
	for _, k := range j.KeepOuts {
		opt.KeepOuts = append(opt.KeepOuts, keepOut(k))
	}
	for _, w := range j.Letters {
		opt.Wishes = append(opt.Wishes, wish(w, letterOf(j, w, rows)))
	}
	return opt
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
