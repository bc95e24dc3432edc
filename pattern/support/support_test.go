package support_test

import (
	"math"
	"testing"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/patterntest"
	"tubewright/pattern/support"
)

// The rule read back from the places: each is on its unit's glass, the first and the
// last are near the electrodes, and no two neighbours are farther apart than allowed.
func TestPlacesKeepTheRule(t *testing.T) {
	for _, r := range []support.Rule{{}, {Spacing: 250, FromEnd: 140}} {
		p := patterntest.Word("HEXS", 60, 2)
		got := support.Places(p, r)
		r = r.Settled()
		for _, u := range p.Units {
			at := of(got, u.ID)
			if len(at) < 2 {
				t.Fatalf("%s has %d supports, at least 2 wanted", u.ID, len(at))
			}
			long := u.Tube.Length()
			if at[0].S > r.FromEnd || long-at[len(at)-1].S > r.FromEnd {
				t.Errorf("%s of %.0f mm: the ends are held at %.0f and %.0f", u.ID, long, at[0].S, at[len(at)-1].S)
			}
			for i, s := range at {
				if i > 0 && (s.S-at[i-1].S > r.Spacing || s.S <= at[i-1].S) {
					t.Errorf("%s: supports at %.0f and %.0f", u.ID, at[i-1].S, s.S)
				}
				if gap := away(u, s); gap > 1e-6 {
					t.Errorf("%s: a support is %g mm off its place along the glass", u.ID, gap)
				}
			}
		}
	}
}

// Where no place is a good one, supports still keep off the holes of the electrodes,
// since there is glass within reach that does.
func TestSupportsKeepOffElectrodes(t *testing.T) {
	p := patterntest.Word("S", 60, 2)
	u, d := p.Units[0], p.Spec.Rules.Diameter
	u.Heats = []bend.Heat{{Start: 0, End: u.Tube.Length(), Radius: d}} // no place is good
	p.Units = []pattern.Unit{u}
	for _, s := range support.Places(p, support.Rule{FromEnd: 250}) {
		for _, q := range [2]geom.Point3{u.Tube.Start(), u.Tube.End()} {
			if gap := s.At.Plan().Dist(q.Plan()); gap < 2*d || !s.Under {
				t.Errorf("a support at %.0f is %.1f mm from an electrode's hole, under %v", s.S, gap, s.Under)
			}
		}
	}
}

// A good place is level and clear of bends and welds.
func TestGoodPlacesAreClear(t *testing.T) {
	p := patterntest.Word("HEXS", 60, 2)
	d, good := p.Spec.Rules.Diameter, 0
	for _, u := range p.Units {
		for _, s := range of(support.Places(p, support.Rule{}), u.ID) {
			if s.Under {
				continue
			}
			good++
			if math.Abs(s.Dir.Z) > 0.05 {
				t.Errorf("%s at %.0f: not level", u.ID, s.S)
			}
			for _, h := range u.Heats {
				if h.Radius < 6*d && s.S > h.Start-d && s.S < h.End+d {
					t.Errorf("%s at %.0f: in heat %d", u.ID, s.S, h.Number)
				}
			}
		}
	}
	if good < 4 {
		t.Errorf("only %d good places", good)
	}
}

func of(all []support.Place, unit string) (out []support.Place) {
	for _, s := range all {
		if s.Unit == unit {
			out = append(out, s)
		}
	}
	return out
}

// away is how far a place is from where its length along the glass says.
func away(u pattern.Unit, s support.Place) float64 {
	rest := s.S
	for _, piece := range u.Tube {
		if n := piece.Seg.Length(); rest <= n {
			return piece.Seg.PointAt(rest).Dist(s.At)
		} else {
			rest -= n
		}
	}
	return u.Tube.End().Dist(s.At)
}
