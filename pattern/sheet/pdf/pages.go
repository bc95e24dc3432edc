package pdf

import (
	"fmt"
	"math"

	"tubewright/geom"
	"tubewright/pattern/sheet"
)

// Pages cuts the sheet into pages of equal size, at most MaxSide long, that
// overlap their neighbours by Overlap; row by row from the top left.
func Pages(s *sheet.Sheet) []geom.Rect { return windows(s, sheet.Stretch{}) }

// windows is Pages for paper that is stretched: no page is printed over MaxSide.
func windows(s *sheet.Sheet, stretch sheet.Stretch) []geom.Rect {
	fx, fy := stretch.Factors()
	nx, wide := cut(s.Width, MaxSide/fx)
	ny, high := cut(s.Height, MaxSide/fy)
	var out []geom.Rect
	for j := range ny {
		for i := range nx {
			x, y := float64(i)*(wide-Overlap), s.Height-float64(j)*(high-Overlap)
			out = append(out, geom.Rect{Min: geom.Point{X: x, Y: y - high}, Max: geom.Point{X: x + wide, Y: y}})
		}
	}
	return out
}

// cut returns how many pages a side takes and how long each is.
func cut(side, most float64) (n int, each float64) {
	if side <= most {
		return 1, side
	}
	n = int(math.Ceil((side - Overlap) / (most - Overlap)))
	return n, (side + float64(n-1)*Overlap) / float64(n)
}

// cutPages returns the pages of a sheet: itself where it is short enough, else its
// windows with the marks of their joints.
func cutPages(s *sheet.Sheet, o Options) []sheet.Page {
	ws := windows(s, o.Stretch)
	if len(ws) == 1 {
		return []sheet.Page{{Sheet: *s, Stretch: o.Stretch}}
	}
	say := o.Words.OrEnglish().Say
	var out []sheet.Page
	for i, w := range ws {
		p := sheet.Page{Stretch: o.Stretch, Label: fmt.Sprint(i + 1), Bookmark: say("joint.sheet", i+1, len(ws))}
		p.Width, p.Height, p.Frame = w.Width(), w.Height(), s.Frame
		p.Views = []sheet.View{{Of: s, Window: w}}
		marks := sheet.Group{ID: "joints"}
		for _, m := range matchMarks(ws, i, say) {
			marks.Items = append(marks.Items, sheet.Moved(m, geom.Point{}.Sub(w.Min)))
		}
		p.Layers = []sheet.Layer{{ID: "joints", Name: "Joints", Groups: []sheet.Group{marks}}}
		out = append(out, p)
	}
	return out
}

// longPage returns the sheet as one page over MaxSide, with a warning in its margin.
func longPage(s *sheet.Sheet, o Options) sheet.Page {
	p := sheet.Page{Sheet: *s, Stretch: o.Stretch}
	whole := func(v float64) string { return geom.FormatNumber(v, 0) }
	t := sheet.Text{Size: sheet.MinSize, Font: sheet.Bold, Colour: sheet.Grey(0), Text: o.Words.OrEnglish().Say("joint.long", whole(max(s.Width, s.Height)), whole(MaxSide))}
	every := max(2000, sheet.Room*sheet.Width(t.Text, t.Size, t.Font)+100)
	var words sheet.Group
	words.ID = "long-page"
	for x := 60.0; x < s.Width-60; x += every {
		t.At = geom.Point{X: x, Y: s.Height - 4.5}
		words.Items = append(words.Items, t)
	}
	p.Layers = append(p.Layers[:len(p.Layers):len(p.Layers)], sheet.Layer{ID: "joints", Name: "Joints", Groups: []sheet.Group{words}})
	return p
}

// matchMarks returns the crosses of page i that must be laid on those of its
// neighbours, each with the number of its joint, and the page's own number.
func matchMarks(ws []geom.Rect, i int, say func(string, ...any) string) []sheet.Item {
	if len(ws) == 1 {
		return nil
	}
	view := ws[i]
	const size, inset = 4.0, 5.0 // in the margin, clear of the drawing
	var cross sheet.Shape
	cross.Pen = sheet.Pen{Width: 0.25, Colour: sheet.Grey(0)}
	var marks []sheet.Item
	for k, w := range ws {
		if k == i || !w.Overlaps(view) {
			continue
		}
		both := geom.Rect{
			Min: geom.Point{X: max(w.Min.X, view.Min.X), Y: max(w.Min.Y, view.Min.Y)},
			Max: geom.Point{X: min(w.Max.X, view.Max.X), Y: min(w.Max.Y, view.Max.Y)},
		}
		c := both.Centre()
		name := fmt.Sprintf("%d-%d", min(i, k)+1, max(i, k)+1)
		ends := [2]geom.Point{{X: c.X, Y: both.Max.Y - inset}, {X: c.X, Y: both.Min.Y + inset}}
		if both.Width() > both.Height() {
			ends = [2]geom.Point{{X: both.Min.X + inset, Y: c.Y}, {X: both.Max.X - inset, Y: c.Y}}
		}
		if min(both.Width(), both.Height()) < 1 || max(both.Width(), both.Height()) < 2*Overlap {
			continue // pages that share a corner only
		}
		for _, p := range ends {
			cross.Paths = append(cross.Paths,
				sheet.Polyline(p.Add(geom.Vec{X: -size}), p.Add(geom.Vec{X: size})),
				sheet.Polyline(p.Add(geom.Vec{Y: -size}), p.Add(geom.Vec{Y: size})))
			marks = append(marks, sheet.Text{At: p.Add(geom.Vec{X: 1, Y: 1}), Text: name, Size: sheet.MinSize, Colour: sheet.Grey(0)})
		}
	}
	label := say("joint.words", i+1, len(ws), geom.FormatNumber(Overlap/2, 0))
	corner := sheet.Text{At: geom.Point{X: view.Min.X + 60, Y: view.Max.Y - 4.5}, Text: label, Size: sheet.MinSize, Colour: sheet.Grey(0)}
	return append(marks, cross, corner)
}
