package trace

import (
	"math"

	"tubewright/geom"
)

// contour is one loop of the outline, measured along.
type contour struct {
	pts   []geom.Point
	at    []float64  // mm along at each point
	dir   []geom.Vec // of the edge that starts at each point
	turn  []float64  // at each point, radians, left (away from the ink) positive
	dent  []bool     // points of a corner that juts into the ink
	total float64
}

const (
	dentTurn   = 20 * math.Pi / 180 // turn into the ink, at one point, that makes a dent
	dentSum    = 30 * math.Pi / 180 // or within dentWindow half-widths of wall
	dentWindow = 0.18
	sharpTurn  = 28 * math.Pi / 180 // turn away from the ink, at one point, that makes a corner
)

func newContour(l []geom.Point) *contour {
	n := len(l)
	c := &contour{pts: l, at: make([]float64, n+1), dir: make([]geom.Vec, n), turn: make([]float64, n), dent: make([]bool, n)}
	for i, p := range l {
		d := l[(i+1)%n].Sub(p)
		c.dir[i] = d.Unit()
		c.at[i+1] = c.at[i] + d.Norm()
	}
	c.total = c.at[n]
	for i := range l {
		c.turn[i] = float64(c.dir[(i+n-1)%n].TurnTo(c.dir[i]))
	}
	return c
}

// findDents marks dents, for strokes of half-width w.
func (c *contour) findDents(w float64) {
	n := len(c.pts)
	for i := range c.pts {
		if c.turn[i] <= -dentTurn {
			c.dent[i] = true
			continue
		}
		if c.turn[i] >= 0 {
			continue
		}
		sum, length := 0.0, 0.0
		for k := 0; k < n; k++ {
			j := (i + k) % n
			if k > 0 {
				length += c.at[(j+n-1)%n+1] - c.at[(j+n-1)%n]
			}
			if length > dentWindow*w || c.turn[j] > 0 {
				break
			}
			sum += c.turn[j]
			if sum <= -dentSum {
				for m := 0; m <= k; m++ {
					c.dent[(i+m)%n] = true
				}
				break
			}
		}
	}
}

// edgeAt returns the edge that holds place s, in [0, total).
func (c *contour) edgeAt(s float64) int {
	lo, hi := 0, len(c.pts)
	for hi-lo > 1 {
		if m := (lo + hi) / 2; c.at[m] <= s {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// isDent reports whether place s is at a dent point.
func (c *contour) isDent(s, near float64) bool {
	e := c.edgeAt(s)
	n := len(c.pts)
	return c.dent[e] && s-c.at[e] <= near || c.dent[(e+1)%n] && c.at[e+1]-s <= near
}

// ahead returns the way from place s forward (or backward) to place t.
func (c *contour) ahead(s, t float64, forward bool) float64 {
	d := t - s
	if !forward {
		d = -d
	}
	if d < 0 {
		d += c.total
	}
	return d
}

// wallPoint is a place on a wall as a walk comes by.
type wallPoint struct {
	at     geom.Point
	n      geom.Vec // unit normal into the ink
	travel float64  // mm walked
	along  float64  // place on the contour
	turn   float64  // at a point of the outline: its turn, left positive; else 0
	dent   bool
	corner bool // a point of the outline
}

// walk goes along the contour from place s for the given way and calls f at
// every point of the outline passed and at least every step mm, first and
// last place included. At a point of the outline the normal is the middle one.
func (c *contour) walk(s, way float64, forward bool, step float64, f func(wallPoint) bool) {
	n := len(c.pts)
	e := c.edgeAt(s)
	here := s - c.at[e]
	travel := 0.0
	at := func(off float64) geom.Point { return c.pts[e].Add(c.dir[e].Mul(off)) }
	if !f(wallPoint{at: at(here), n: c.dir[e].Left(), along: s}) {
		return
	}
	for range 2*n + 2 {
		rest := here
		if forward {
			rest = c.at[e+1] - c.at[e] - here
		}
		stop := min(rest, way-travel)
		k := max(1, int(math.Ceil(stop/step)))
		for i := 1; i <= k; i++ {
			d := stop * float64(i) / float64(k)
			if i == k && rest <= way-travel {
				break
			}
			off := here + d
			if !forward {
				off = here - d
			}
			if !f(wallPoint{at: at(off), n: c.dir[e].Left(), travel: travel + d, along: c.at[e] + off}) {
				return
			}
		}
		travel += stop
		if rest > stop || travel >= way {
			return
		}
		v := (e + 1) % n
		if !forward {
			v = e
		}
		w := wallPoint{at: c.pts[v], travel: travel, along: c.at[v], turn: c.turn[v], dent: c.dent[v], corner: true}
		w.n = c.dir[(v+n-1)%n].Add(c.dir[v]).Unit().Left()
		if !f(w) {
			return
		}
		if forward {
			e, here = v, 0
		} else {
			e = (v + n - 1) % n
			here = c.at[e+1] - c.at[e]
		}
	}
}
