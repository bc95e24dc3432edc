package main

import (
	"math"
	"slices"

	"tubewright/cmd/tubewright/job"
	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/finding"
	"tubewright/pattern/grade"
)

// leastStep is how near the least height is found, mm.
const leastStep = 1.0

// mostRise is how many times the job's own height the search goes up.
const mostRise = 4

// trials makes one wording at one height after another, each once. The whole
// wording is scaled, spacing and all; tube and rules stay.
type trials struct {
	job   job.Job
	worst map[float64]finding.Severity // by height, mm
}

// impossible ranks above every finding: no pattern could be made at all.
const impossible = finding.Error + 1

// newTrials starts from the pattern made at the job's own height.
func newTrials(j job.Job, made pattern.Pattern) *trials {
	return &trials{j, map[float64]finding.Severity{float64(j.Height): worstOf(made)}}
}

// worstOf returns the worst of what depends on the height: a face that does not
// suit one line of tube does not suit it at any.
func worstOf(p pattern.Pattern) finding.Severity {
	worst, _ := finding.Worst(slices.DeleteFunc(slices.Clone(p.Findings), grade.IsOfFace)) // a Note where there are none
	return worst
}

// holds reports whether the wording at height h has no finding worse than the
// given one.
func (t *trials) holds(h float64, worst finding.Severity) bool {
	got, known := t.worst[h]
	if !known {
		got = impossible
		if p, err := makePattern(t.at(geom.Length(h))); err == nil {
			got = worstOf(p)
		}
		t.worst[h] = got
	}
	return got <= worst
}

// at returns the job with its wording scaled to height h.
func (t *trials) at(h geom.Length) job.Job {
	j := t.job
	j.LineSpacing *= h / j.Height
	j.LetterSpacing *= h / j.Height
	j.Tolerance *= h / j.Height
	j.Height = h
	return j
}

// least returns the least height at which no finding is worse than the given
// one, and false where none was found up to mostRise times the job's height.
//
// From the job's height it goes down by a fifth at a time until the wording
// does not hold, or up by a half until it does, and then halves the step
// between. Whether a wording holds need not follow its height strictly: the
// answer is a height at which it does, with one within a millimetre below at
// which it does not.
func (t *trials) least(worst finding.Severity) (geom.Length, bool) {
	lowest := math.Ceil(max(float64(job.MinHeight), 2*t.job.Rules.Diameter))
	highest := min(float64(job.MaxHeight), mostRise*float64(t.job.Height))
	good, bad := 0.0, 0.0 // 0: none known yet
	for h := float64(t.job.Height); good == 0 || bad == 0; {
		if t.holds(h, worst) {
			good, h = h, max(lowest, math.Floor(h*0.8))
		} else {
			bad, h = h, min(highest, math.Ceil(h*1.5))
		}
		switch {
		case bad == 0 && good <= lowest:
			return geom.Length(good), true
		case good == 0 && bad >= highest:
			return 0, false
		}
	}
	for good-bad > leastStep {
		if mid := math.Floor((good + bad) / 2); t.holds(mid, worst) {
			good = mid
		} else {
			bad = mid
		}
	}
	return geom.Length(good), true
}
