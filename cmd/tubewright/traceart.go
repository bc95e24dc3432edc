package main

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts/artwork"
	"tubewright/geom"
	"tubewright/geom/region"
	"tubewright/geom/trace"
	"tubewright/pattern/finding"

	"github.com/spf13/pflag"
)

// isArtwork reports whether a name is that of a drawing, not of a job file.
func isArtwork(name string) bool { return strings.EqualFold(filepath.Ext(name), ".svg") }

// traceArtwork traces the filled outlines of an SVG file.
func traceArtwork(name string, height, tolerance job.Value) (traced, error) {
	var tol geom.Length // 0 stands for the usual share of the height
	if tolerance.Text != "" {
		var err error
		if tol, err = geom.ParseLength(tolerance.Text); err != nil {
			return traced{}, fmt.Errorf("%s: %w", tolerance.Place, err)
		}
		if tol < job.MinTolerance || tol > job.MaxTolerance {
			return traced{}, fmt.Errorf("%s: a length of %s: the tolerance must be from %s to %s", tolerance.Place, tol, job.MinTolerance, job.MaxTolerance)
		}
	}
	f, err := os.Open(name)
	if err != nil {
		return traced{}, fmt.Errorf("artwork: %w", err)
	}
	defer f.Close()
	data, err := readBounded(f, name, artwork.MaxFile)
	if err != nil {
		return traced{}, err
	}
	d, err := artwork.Parse(data, name)
	if err != nil {
		return traced{}, err
	}
	t := traced{artwork: filepath.Base(name), remarks: d.Remarks, perEm: 1, coverage: 1}
	box := d.Box()
	if t.em, t.height, err = artworkScale(name, d.Unit, box, height); err != nil {
		return traced{}, err
	}
	move := geom.Vec{X: -t.em * box.Min.X, Y: -t.em * box.Min.Y}
	pieces, err := d.Pieces(t.em, move, flattenShare*float64(t.height))
	if err != nil {
		return traced{}, fmt.Errorf("%s%w", name, err)
	}
	if len(pieces) == 0 {
		return traced{}, fmt.Errorf("%s: every shape of the drawing is thinner than can be traced; make the strokes wider", name)
	}
	cap := typicalHeight(pieces)
	for i, p := range pieces {
		found, err := trace.Region(p.Ink, trace.Options{CapHeight: cap, Tol: float64(tol)})
		if err != nil {
			return traced{}, fmt.Errorf("%s, piece %d (%s): %w", name, i+1, strings.Join(p.IDs, ", "), err)
		}
		one := tracedGlyph{ids: p.IDs, origin: geom.Point{}.Add(move), outline: outlineOf(p.Ink)}
		one.strokes, one.found = placed(found, geom.Vec{})
		t.coverage = min(t.coverage, found.Coverage)
		t.glyphs = append(t.glyphs, one)
	}
	return t, nil
}

// flattenShare is the flattening tolerance as a share of the height.
const flattenShare = 1e-4

// artworkScale returns how many mm a unit of the drawing is, and how high its
// ink: as the file says, unless a height is asked for.
func artworkScale(name string, unit geom.Length, box geom.Rect, asked job.Value) (float64, geom.Length, error) {
	if box.IsEmpty() || !(box.Height() > 0) || !(box.Width() > 0) {
		return 0, 0, fmt.Errorf("%s: the ink of the drawing has no height or no width", name)
	}
	if asked.Text != "" {
		j, err := job.Complete(job.Values{"text": {Text: "artwork"}, "height": asked, "tube": {Text: "3mm"}})
		return float64(j.Height) / box.Height(), j.Height, err
	}
	if unit <= 0 {
		return 0, 0, fmt.Errorf("%s: the file does not say in mm or inches how large the drawing is; give the height of its ink, as in --height 300mm", name)
	}
	k := float64(unit)
	if h := k * box.Height(); h < float64(job.MinHeight)/10 || h > 10*float64(job.MaxHeight) {
		return 0, 0, fmt.Errorf("%s: the ink of the drawing is %s high by the file's own size; give the height meant, as in --height 300mm", name, geom.Length(h))
	}
	return k, geom.Length(k * box.Height()), nil
}

// typicalHeight stands for the height of a capital: half of the ink is in
// pieces at most as high.
func typicalHeight(pieces []artwork.Piece) float64 {
	sorted := slices.Clone(pieces)
	high := func(p artwork.Piece) float64 { return p.Ink.Bounds().Height() }
	slices.SortStableFunc(sorted, func(a, b artwork.Piece) int { return cmp.Compare(high(a), high(b)) })
	all, sum := 0.0, 0.0
	for _, p := range sorted {
		all += p.Ink.Area()
	}
	for _, p := range sorted {
		if sum += p.Ink.Area(); sum >= all/2 {
			return high(p)
		}
	}
	return high(sorted[len(sorted)-1])
}

// outlineOf returns the loops of a region as an outline.
func outlineOf(r region.Region) geom.Outline {
	var out geom.Outline
	for _, l := range r.Loops {
		c := geom.Contour{Start: l[0]}
		for _, p := range l[1:] {
			c.Curves = append(c.Curves, geom.Curve{Kind: geom.LineTo, To: p})
		}
		out = append(out, c)
	}
	return out
}

// artworkOf returns the artwork that a command line names, "" where it asks
// for words.
func artworkOf(o *options) (string, error) {
	if len(o.args) != 1 || !isArtwork(o.args[0]) {
		return "", nil
	}
	for _, s := range traceSettings() {
		if _, given := o.values[s.Key]; given && s.Key != "height" && s.Key != "tolerance" {
			return "", usagef("--%s does not go with the artwork %s, which brings its own shapes", s.Key, o.args[0])
		}
	}
	return o.args[0], nil
}

// sayRemarks tells what of an artwork was not taken as it stands.
func (c *console) sayRemarks(rs []artwork.Remark) {
	for i, r := range rs {
		if i == mostRemarks {
			c.say("and %d more; all of them are in the JSON", len(rs)-mostRemarks)
			return
		}
		c.say("%s: %s", severityOfRemark(r), r.Message())
		if r.Remedy != "" {
			c.say("  remedy: %s", r.Remedy)
		}
	}
}

// mostRemarks is how many remarks on a file are told.
const mostRemarks = 20

func severityOfRemark(r artwork.Remark) finding.Severity {
	if r.Differs {
		return finding.Warning
	}
	return finding.Note
}

// traceFlags are the flags of trace that are no settings.
func traceFlags(c *console) func(*pflag.FlagSet, *options) {
	return func(fs *pflag.FlagSet, o *options) {
		fs.StringVar(&o.format, "format", "json", "")
		fs.StringVar(&o.outFile, "out", "", "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	}
}
