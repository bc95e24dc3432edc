package main

import (
	"bytes"
	"path/filepath"
	"slices"
	"testing"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"

	"github.com/spf13/pflag"
)

// made is an example up to its pattern.
type made struct {
	job     job.Job
	pattern pattern.Pattern
	side    shopSide
}

func makeExample(t testing.TB, args ...string) made {
	t.Helper()
	c := &console{out: &bytes.Buffer{}, err: &bytes.Buffer{}}
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	o, err := parse("make", args, makeSettings(), func(*pflag.FlagSet, *options) {})
	fail(err)
	var m made
	m.job, err = c.readJob(o)
	fail(err)
	set, err := readTables(m.job.Shop.Tables)
	fail(err)
	spec, err := shopSpec(m.job, set)
	fail(err)
	m.pattern, err = makePattern(m.job)
	fail(err)
	m.side, err = makeShop(m.pattern, spec)
	fail(err)
	m.side.print, err = paperOptions(m.job.Paper, m.job.Shop.Place)
	fail(err)
	return m
}

// flat is what of a page matters here: its words, and the centrelines of its glass
// with the box that cuts them off.
type flat struct {
	texts []sheet.Text
	glass []place
}

type place struct {
	at    geom.Point
	shown geom.Rect
}

func (f *flat) add(layers []sheet.Layer, window geom.Rect, to geom.Vec) {
	for _, l := range layers {
		for _, g := range l.Groups {
			for _, i := range g.Items {
				switch i := i.(type) {
				case sheet.Text:
					if b := i.Bounds(); window.Contains(b.Min) && window.Contains(b.Max) {
						f.texts = append(f.texts, sheet.Moved(i, to).(sheet.Text))
					}
				case sheet.Shape:
					if l.ID != "centreline" {
						continue
					}
					for _, p := range i.Paths {
						for _, q := range p.Samples(1) {
							if window.Contains(q) {
								f.glass = append(f.glass, place{q.Add(to), geom.Rect{Min: window.Min.Add(to), Max: window.Max.Add(to)}})
							}
						}
					}
				}
			}
		}
	}
}

func flatten(p sheet.Page) flat {
	var f flat
	f.add(p.Layers, geom.Rect{Min: geom.Point{X: -1, Y: -1}, Max: geom.Point{X: p.Width + 1, Y: p.Height + 1}}, geom.Vec{})
	for _, v := range p.Views {
		f.add(v.Of.Layers, v.Window, v.At.Sub(v.Window.Min))
	}
	return f
}

// clashes counts texts over texts and texts over glass of diameter d.
func (f flat) clashes(t *testing.T, name string, d float64) (texts, glass int) {
	for i, a := range f.texts {
		box := a.Bounds()
		for _, b := range f.texts[:i] {
			if box.Overlaps(b.Bounds()) {
				texts++
				t.Logf("%s: %q over %q", name, a.Text, b.Text)
			}
		}
		near := box.Grown(d / 2)
		for _, q := range f.glass {
			if !near.Contains(q.at) || !box.Overlaps(q.shown) {
				continue
			}
			on := geom.Point{X: min(max(q.at.X, box.Min.X), box.Max.X), Y: min(max(q.at.Y, box.Min.Y), box.Max.Y)}
			if on.Dist(q.at) < d/2 {
				glass++
				t.Logf("%s: %q over glass at %v", name, a.Text, q.at)
				break
			}
		}
	}
	return texts, glass
}

// On no sheet of any example, in no language, does a text lie over another or over
// glass.
func TestNoTextLiesOverGlassOrText(t *testing.T) {
	jobs, err := filepath.Glob("../../examples/*/job.toml")
	if err != nil || len(jobs) < 4 {
		t.Fatalf("%d examples found (%v), at least 4 are wanted", len(jobs), err)
	}
	for _, path := range jobs {
		m := makeExample(t, path)
		for _, language := range words.Languages() {
			if m.side.print.Format.Words, err = words.In(language); err != nil {
				t.Fatal(err)
			}
			d, err := drawAll(m.pattern, m.side)
			if err != nil {
				t.Fatal(err)
			}
			pages := []sheet.Page{{Sheet: *d.bench}, {Sheet: *d.front}}
			if language == "en" || len(m.pattern.Units) < 3 { // the words of long documents are those of short ones
				pages = slices.Concat(pages, d.tiles.Pages, d.book.Pages)
			}
			for i, p := range pages {
				name := filepath.Base(filepath.Dir(path)) + " " + language + " " + p.Label
				f := flatten(p)
				if i < 2 && (len(f.texts) < 20 || len(f.glass) < 300) {
					t.Errorf("%s: only %d texts and %d places of glass are looked at", name, len(f.texts), len(f.glass))
				}
				overText, overGlass := f.clashes(t, name, m.pattern.Spec.Rules.Diameter)
				if overText > 0 || overGlass > 0 {
					t.Errorf("%s: %d texts over text, %d over glass", name, overText, overGlass)
				}
			}
		}
	}
}

// All sheets and files of a job of ten letters, its pattern made.
func BenchmarkFilesOfTenLetters(b *testing.B) { benchmarkFiles(b, "RYE BAKERY5") }

// And of a hundred: it should take ten times as long.
func BenchmarkFilesOfAHundredLetters(b *testing.B) {
	benchmarkFiles(b, "RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5 RYE BAKERY5")
}

func benchmarkFiles(b *testing.B, text string) {
	m := makeExample(b, "--text", text, "--font", "futural", "--height", "200mm")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := wholeJob(m.job, m.side); err != nil {
			b.Fatal(err)
		}
	}
}
