package fit

import (
	"math"

	"tubewright/geom"
)

// Costs of the dynamic programme, in pieces.
const (
	// errorCost is what a fit everywhere at the edge of the band would cost:
	// under 1, so that error never buys a piece.
	errorCost = 0.5
	// arcCost makes a line win over an arc that is hardly better: a bow of
	// about a fifth of the tolerance.
	arcCost = 0.002
	// patience is how many stations in a row must fail before a piece stops
	// growing; noise can make one fail alone.
	patience = 3
)

// piece is a stretch of samples that one line or circle follows.
type piece struct {
	from, to int // samples
	line     bool
	fit      shape
}

// structure returns the fewest pieces that each hold the band, least error
// among equals. Pieces are fitted one by one and need not meet. It returns nil
// where limit stations are too few to part the pieces.
func structure(sm []sample, tol float64, limit int) []piece {
	st := stations(sm, limit)
	n := len(st)
	cost := make([]float64, n)
	from := make([]int, n)
	best := make([]piece, n)
	for j := 1; j < n; j++ {
		cost[j] = math.Inf(1)
	}
	length := sm[len(sm)-1].s
	for i := 0; i < n-1; i++ {
		m := moments{o: sm[st[i]].p}
		last, failed := st[i], 0
		m.add(sm[last].p, sm[last].w)
		for j := i + 1; j < n && failed < patience; j++ {
			for last < st[j] {
				last++
				m.add(sm[last].p, sm[last].w)
			}
			p, ok := onePiece(sm, &m, st[i], st[j], tol)
			if !ok {
				failed++
				continue
			}
			failed = 0
			c := cost[i] + 1 + float64(errorCost*m.n*float64(p.fit.rms*p.fit.rms))/(tol*tol*length)
			if !p.line {
				c += arcCost
			}
			if c < cost[j] {
				cost[j], from[j], best[j] = c, i, p
			}
		}
	}
	if math.IsInf(cost[n-1], 1) {
		return nil
	}
	var out []piece
	for j := n - 1; j > 0; j = from[j] {
		out = append(out, best[j])
	}
	for a, b := 0, len(out)-1; a < b; a, b = a+1, b-1 {
		out[a], out[b] = out[b], out[a]
	}
	return out
}

// onePiece returns the cheaper of line and circle through samples i to j that
// holds the band.
func onePiece(sm []sample, m *moments, i, j int, tol float64) (piece, bool) {
	chord := sm[j].p.Sub(sm[i].p)
	if j == i+1 {
		return piece{i, j, true, shape{o: sm[i].p, b: chord.Unit().Left()}}, true
	}
	l := m.line()
	lineOK := within(sm[i:j+1], l, tol)
	if lineOK && l.rms < 1e-9*tol {
		return piece{i, j, true, l}, true
	}
	c, ok := m.circle()
	// A piece that goes more than all the way round is no arc.
	arcOK := ok && math.Abs(2*c.a)*(sm[j].s-sm[i].s) < 1.98*math.Pi && within(sm[i:j+1], c, tol)
	if lineOK {
		gain := float64(errorCost*m.n*(float64(l.rms*l.rms)-float64(c.rms*c.rms))) / (tol * tol * sm[len(sm)-1].s)
		if !arcOK || gain < arcCost {
			return piece{i, j, true, l}, true
		}
	}
	return piece{i, j, false, c}, arcOK
}

// within reports whether every sample is within tol of the shape. It looks
// from the newest end, where a failure is likeliest.
func within(sm []sample, c shape, tol float64) bool {
	for i := len(sm) - 1; i >= 0; i-- {
		if math.Abs(c.offset(sm[i].p)) > tol {
			return false
		}
	}
	return true
}

// heading returns the direction of travel of piece p at sample i.
func (p piece) heading(sm []sample, i int) geom.Vec {
	lo, hi := max(i-1, p.from), min(i+1, p.to)
	return p.fit.dir(sm[i].p, sm[hi].p.Sub(sm[lo].p))
}
