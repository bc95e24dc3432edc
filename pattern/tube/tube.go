package tube

import "tubewright/geom"

// Role says what the light of a piece is for.
type Role int

const (
	Lit    Role = iota // seen: part of a stroke
	Hidden             // a back run or jump, painted out
	Leg                // the straight end that carries an electrode
)

func (r Role) String() string { return [...]string{"lit", "hidden", "leg"}[r] }

// Piece is one segment of a tube. Stroke is the id of the stroke a Lit piece
// lights, "" for other roles. From and To say where on the stroke, in mm along
// its plane path, a Lit piece begins and ends. Joined marks an arc cut off from
// the arc before it: the two are one circle and one bend.
type Piece struct {
	Seg    geom.Segment3
	Role   Role
	Stroke string
	From   float64
	To     float64
	Joined bool
}

// Cut returns the parts of a piece before and after distance s along it.
func (p Piece) Cut(s float64) (before, after Piece) {
	n := p.Seg.Length()
	at := p.From + (p.To-p.From)*s/n
	before, after = p, p
	before.Seg, before.To = p.Seg.Cut(0, s), at
	after.Seg, after.From = p.Seg.Cut(s, n), at
	_, after.Joined = p.Seg.(geom.Arc3)
	return before, after
}

// Tube is the centreline of one unit, from electrode seal A to seal B.
type Tube []Piece

// Length returns the developed length.
func (t Tube) Length() float64 {
	var n float64
	for _, p := range t {
		n += p.Seg.Length()
	}
	return n
}

// LengthOf returns the developed length of the pieces of one role.
func (t Tube) LengthOf(r Role) float64 {
	var n float64
	for _, p := range t {
		if p.Role == r {
			n += p.Seg.Length()
		}
	}
	return n
}

// Reversed returns the tube travelled from B to A.
func (t Tube) Reversed() Tube {
	out := make(Tube, len(t))
	for i, p := range t {
		q := p
		q.Seg = p.Seg.Reversed()
		q.From, q.To = p.To, p.From
		q.Joined = i+1 < len(t) && t[i+1].Joined
		out[len(t)-1-i] = q
	}
	return out
}

func (t Tube) Start() geom.Point3  { return t[0].Seg.Start() }
func (t Tube) End() geom.Point3    { return t[len(t)-1].Seg.End() }
func (t Tube) StartDir() geom.Vec3 { return t[0].Seg.DirAt(0) }
func (t Tube) EndDir() geom.Vec3 {
	s := t[len(t)-1].Seg
	return s.DirAt(s.Length())
}
