package order

import (
	"math"

	"tubewright/geom"
	"tubewright/pattern/bend"
	"tubewright/pattern/glass"
	"tubewright/pattern/tube"
)

// Problem is a piece of a unit that is bent as one: From and To are developed
// mm from seal A, Heats those within, in the order of travel. Head and Tail are
// the glass beyond From and To that is held now and trimmed off later. Welds
// are where its sticks are joined, ascending: a stick is welded on only when a
// heat needs it.
type Problem struct {
	Tube       tube.Tube
	Heats      []bend.Heat
	Rules      glass.Rules
	From, To   float64
	Head, Tail float64
	Welds      []float64
	Bends      *Bends  // of the whole unit, shared by the problems of its parts; nil to have them worked out
	Offset     int     // index in Bends of the first of Heats
	Trial      bool    // only whether there is an order: any order, and no reasons
	Budget     *Budget // of the whole unit; nil for one of its own
}

// limits are the distances a heat is held to; 0 switches a rule off.
type limits struct {
	touch float64 // least distance of centrelines while glass swings
	fire  float64 // least distance from heated to other centrelines
	hold  float64 // cold glass on each side
	table bool
}

// arc is a bend of a heat in the frame that travels along the tube, or a
// straight (angle 0) within the heat.
type arc struct {
	length float64
	axis   geom.Vec3 // local, square to the travel
	angle  geom.Angle
}

// formed is one heat: its bends, and what it does when it is bent.
type formed struct {
	parts    []arc
	length   float64
	sum      float64 // of all angles, radians
	turn     swing   // of the far side
	turnBack swing   // of the near side, seen from the far one
	exit     frame   // of the far side in the frame of the near side, bent
	back     frame   // the inverse of exit
	shape    []geom.Point3
	at       []float64 // of each point of shape, mm from the start of the heat
	zone     [2]float64
	entry    frame // in the bench frame, in the finished unit
	exitDone frame
	start    float64 // mm from seal A
	poses    []keptPose
	zones    []*group
}

type model struct {
	lim      limits
	heats    []formed
	straight []float64 // before each heat, and after the last
	ends     [2]float64
	welds    []float64
	checks   int
	budget   *Budget
	work     int // places looked at since the budget was last charged
	refusals [][]refusal
	cache    map[question]answer
	light    map[question]float64 // at most the smaller swing of a heat
}

// Budget bounds the work of planning one unit: it counts places and pairs of chords
// looked at, so that the same unit stops at the same place on every machine.
type Budget struct{ left int }

// The work for one unit, and for each heat of it. An ordinary unit needs a tenth.
const (
	unitWork = 4_000_000
	heatWork = 400_000
)

// NewBudget returns the budget of a unit with so many heats.
func NewBudget(heats int) *Budget { return &Budget{left: unitWork + heatWork*heats} }

// tired charges the work done and reports whether none is left.
func (m *model) tired() bool {
	m.budget.left -= m.work
	m.work = 0
	return m.budget.left <= 0
}

// sagitta is how far a chord may stand off its arc, mm.
const sagitta = 0.1

func newModel(p Problem) *model {
	m := &model{
		lim:  limits{touch: p.Rules.Diameter, fire: p.Rules.FireGap, hold: p.Rules.Hold, table: true},
		ends: [2]float64{p.From - p.Head, p.To + p.Tail}, welds: p.Welds, budget: p.Budget, cache: map[question]answer{}, light: map[question]float64{},
	}
	if m.budget == nil {
		m.budget = NewBudget(len(p.Heats))
	}
	bends := p.Bends
	if bends == nil {
		bends = Prepare(p.Tube, p.Heats)
	}
	m.heats = bends.heats[p.Offset : p.Offset+len(p.Heats)]
	at := m.ends[0]
	for _, h := range m.heats {
		m.straight = append(m.straight, h.start-at)
		at = h.start + h.length
	}
	m.straight = append(m.straight, m.ends[1]-at)
	return m
}

// Bends is what the heats of a unit do, whatever is bent before them: worked out
// once, as more is asked. It must not be used by two searches at a time.
type Bends struct{ heats []formed }

// Forget lets go of the poses that were kept while orders were tried; they are worked
// out again where they are asked for.
func (b *Bends) Forget() {
	for i := range b.heats {
		b.heats[i].poses = nil
	}
}

// Prepare returns the bends of all heats of a unit.
func Prepare(t tube.Tube, heats []bend.Heat) *Bends {
	out := &Bends{}
	var f frame
	for i, h := range heats {
		first := t[h.First].Seg
		if i == 0 {
			f = alongDir(geom.Point3{}, toBench(first.DirAt(0)))
		}
		// Set right at each heat by the tube itself: what is carried from heat to heat
		// alone grows its rounding with every heat.
		f = f.straightened(toBench(first.DirAt(0)))
		f.o = benchPoint(first.Start())
		b := newFormed(t, h, f)
		out.heats = append(out.heats, b)
		f = b.exitDone
	}
	return out
}

// toBench turns the front frame over: what is behind the face is up.
func toBench(v geom.Vec3) geom.Vec3 { return geom.Vec3{X: -v.X, Y: v.Y, Z: -v.Z} }

func benchPoint(p geom.Point3) geom.Point3 { return geom.Point3{X: -p.X, Y: p.Y, Z: -p.Z} }

// newFormed returns a heat that starts at frame f in the finished unit. The
// frame is carried along the tube without rolling, so that glass left straight
// does not twist.
func newFormed(t tube.Tube, h bend.Heat, f frame) formed {
	start, _ := h.Span(t)
	out := formed{entry: f, start: start, zone: [2]float64{h.From - start, h.To - start}}
	hint := geom.Vec3{}
	for _, piece := range t[h.First : h.Last+1] {
		part := arc{length: piece.Seg.Length()}
		if a, ok := piece.Seg.(geom.Arc3); ok {
			axis := toBench(a.Axis)
			part.axis, part.angle = f.local(axis), a.Angle
			hint = hint.Add(part.axis.Mul(float64(a.Angle)))
			f = f.turned(axis, a.Angle)
		}
		out.parts = append(out.parts, part)
		out.length += part.length
		out.sum += float64(part.angle)
	}
	out.finish(hint)
	out.exitDone = out.entry.then(out.exit)
	return out
}

// finish works out the bent shape from the parts.
func (h *formed) finish(hint geom.Vec3) {
	h.shape, h.at = h.bent(1)
	f := identity()
	for _, p := range h.parts {
		f = f.then(p.step(1, p.length))
	}
	h.exit, h.back = f, f.inverse()
	h.turn = swingOf(f, hint)
	h.turnBack = h.turn.back()
}

// step returns the frame s mm along a part that is bent to the fraction k of its
// angle.
func (p arc) step(k, s float64) frame {
	if p.length == 0 { // a sharp corner
		return identity().turned(p.axis, geom.Angle(k*float64(p.angle)))
	}
	angle := k * float64(p.angle) * s / p.length
	if math.Abs(angle) < 1e-9 {
		return identity().along(s)
	}
	r := s / angle
	f := identity().turned(p.axis, geom.Angle(angle))
	in := p.axis.Cross(geom.Vec3{X: 1}).Mul(r)
	f.o = geom.Point3{}.Add(in).Add(in.Neg().Turned(p.axis, geom.Angle(angle)))
	return f
}

// bent returns the centreline of the heat bent to the fraction k of its angles,
// as a polyline in the frame of its start, with the distance of each point.
func (h *formed) bent(k float64) ([]geom.Point3, []float64) {
	pts, at := []geom.Point3{{}}, []float64{0}
	f, s := identity(), 0.0
	for _, p := range h.parts {
		n := chords(p.length, k*float64(p.angle))
		for i := 1; i <= n; i++ {
			d := p.length * float64(i) / float64(n)
			pts, at = append(pts, f.then(p.step(k, d)).o), append(at, s+d)
		}
		f, s = f.then(p.step(k, p.length)), s+p.length
	}
	return pts, at
}

// longestChord keeps the places along a heat apart, mm, however little it bends.
const longestChord = 12.0

// chords returns how many chords hold an arc to the sagitta.
func chords(length, angle float64) int {
	n := int(math.Ceil(length / longestChord))
	if r := length / max(math.Abs(angle), 1e-9); r > sagitta {
		n = max(n, int(math.Ceil(math.Abs(angle)/(2*math.Acos(1-sagitta/r)))))
	}
	return max(1, n)
}

// poseGrid is into how many steps a bend is divided for the poses that are kept:
// an advance ends on the last of them that it reaches, so that most poses are
// worked out once a heat.
const poseGrid = 1024

// advance returns the fraction to look at next when nothing can touch between t
// and t + step.
func advance(t, step float64) float64 {
	to := t + step
	if to >= 1 {
		return 1
	}
	if on := math.Floor(to*poseGrid) / poseGrid; on > t {
		return on
	}
	return to
}

// keptPose is how the two sides stand to each other at one fraction of a bend,
// which does not depend on what else is bent.
type keptPose struct {
	known bool
	far   frame // of the far side in the near side's, the far side swung
	near  frame // of the near side in the far side's, the near side swung
	joint frame // of the end of the heated glass in the frame of its start
}

func (h *formed) kept(k float64) *keptPose {
	if h.poses == nil {
		h.poses = make([]keptPose, poseGrid+1)
	}
	i := int(k * poseGrid)
	if float64(i) != k*poseGrid {
		out := h.work(k)
		return &out
	}
	if !h.poses[i].known {
		h.poses[i] = h.work(k)
	}
	return &h.poses[i]
}

func (h *formed) work(k float64) keptPose {
	out := keptPose{known: true, far: h.turn.at(k), near: h.turnBack.at(k), joint: identity()}
	for _, p := range h.parts {
		out.joint = out.joint.then(p.step(k, p.length))
	}
	out.far.o, out.near.o = out.joint.o, out.joint.inverse().o
	return out
}
