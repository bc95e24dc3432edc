package export

import (
	"bufio"
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"io"
	"math"

	"tubewright/geom"
	"tubewright/pattern"
	"tubewright/pattern/bend"
	"tubewright/pattern/finding"
	"tubewright/pattern/glass"
	"tubewright/pattern/route"
	"tubewright/pattern/tube"
)

// Format is the name and version of result.json.
const Format = "tubewright.result/1"

//go:embed result.schema.json
var schema []byte

// Schema returns the JSON Schema (draft 2020-12) of result.json.
func Schema() []byte { return bytes.Clone(schema) }

// WriteResult writes result.json. Where one segment ends, the next one's start
// is printed, so that neighbours meet to the last digit. It returns an error,
// and writes nothing, where segments that should meet lie over 1e-6 mm apart or
// a number is not finite; else the first error of w.
func WriteResult(w io.Writer, p pattern.Pattern) error {
	r, err := newResult(p)
	if err != nil {
		return err
	}
	var buf bytes.Buffer
	if err := r.write(&buf); err != nil {
		return fmt.Errorf("result.json: %w", err)
	}
	_, err = w.Write(buf.Bytes())
	return err
}

// Numbers are printed with a fixed most number of decimals: mm to a tenth of a
// nanometre, degrees to match on a radius of metres, unit vectors finer still.
type (
	mm     float64
	degree float64
	ratio  float64
)

func number(v float64, decimals int) ([]byte, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil, fmt.Errorf("a value of the pattern is not a finite number")
	}
	return []byte(geom.FormatNumber(v, decimals)), nil
}

func (v mm) MarshalJSON() ([]byte, error)     { return number(float64(v), 7) }
func (v degree) MarshalJSON() ([]byte, error) { return number(float64(v), 9) }
func (v ratio) MarshalJSON() ([]byte, error)  { return number(float64(v), 12) }

type place [3]mm
type direction [3]ratio

func placeOf(p geom.Point3) place       { return place{mm(p.X), mm(p.Y), mm(p.Z)} }
func directionOf(v geom.Vec3) direction { return direction{ratio(v.X), ratio(v.Y), ratio(v.Z)} }

type segment struct {
	Kind   string     `json:"kind"`
	From   place      `json:"from"`
	To     place      `json:"to"`
	Centre *place     `json:"centre,omitempty"`
	Axis   *direction `json:"axis,omitempty"`
	Radius mm         `json:"radius,omitempty"`
	Angle  degree     `json:"angle,omitempty"`
	Role   string     `json:"role,omitempty"`
	Stroke string     `json:"stroke,omitempty"`
}

type row struct {
	StraightBefore mm     `json:"straight_before"`
	Rotation       degree `json:"rotation"`
	Angle          degree `json:"angle"`
	Radius         mm     `json:"radius"`
	Bend           int    `json:"bend"`
}

type electrode struct {
	End       string    `json:"end"`
	At        place     `json:"at"`
	Direction direction `json:"direction"`
	// Tubulation is the side the pumping tubulation points to, at the end that has it.
	Tubulation string `json:"tubulation,omitempty"`
}

// depth says how far a unit reaches behind the face, legs left out.
type depth struct {
	Planes  int `json:"planes"`
	Deepest mm  `json:"deepest"`
	Support mm  `json:"support_height"`
}

// term is one part of what the routing of a unit cost.
type term struct {
	Name   string `json:"name"`
	Letter int    `json:"letter"`
	Amount mm     `json:"amount"`
	Weight mm     `json:"weight"`
}

type stroke struct {
	ID     string    `json:"id"`
	Letter int       `json:"letter"`
	Text   string    `json:"text"`
	Closed bool      `json:"closed"`
	Path   []segment `json:"path"`
}

type unit struct {
	ID            string      `json:"id"`
	Path          []segment   `json:"path"`
	Developed     mm          `json:"developed_length"`
	Lit           mm          `json:"lit_length"`
	Blocked       mm          `json:"blocked_length"`
	Legs          mm          `json:"leg_length"`
	Rows          []row       `json:"rows"`
	StraightAfter mm          `json:"straight_after"`
	Bends         []heat      `json:"bends"`
	Parts         []part      `json:"parts"`
	Sticks        []piece     `json:"sticks"`
	Electrodes    []electrode `json:"electrodes"`
	Depth         depth       `json:"depth"`
	Cost          []term      `json:"cost"`
}

type findingEntry struct {
	Code     string `json:"code"`
	Severity string `json:"severity"`
	Letter   string `json:"letter,omitempty"`
	Unit     string `json:"unit,omitempty"`
	Stroke   string `json:"stroke,omitempty"`
	At       place  `json:"at"`
	Message  string `json:"message"`
	Remedy   string `json:"remedy,omitempty"`
}

// rules are all limits the job was bent to; tube and limits repeat some of them.
type rules struct {
	Diameter         mm `json:"outside_diameter"`
	MinRadius        mm `json:"min_bend_radius"`
	CornerRadius     mm `json:"corner_radius"`
	DoubleBackRadius mm `json:"double_back_radius"`
	Clearance        mm `json:"clearance"`
	BackPlane        mm `json:"back_plane"`
	PlaneStep        mm `json:"plane_step"`
	DipDepth         mm `json:"dip_depth"`
	DipRun           mm `json:"dip_run"`
	DipFlat          mm `json:"dip_flat"`
	Leg              mm `json:"leg"`
	MaxUnit          mm `json:"max_unit_length"`
	Stick            mm `json:"stick_length"`
	HeatLength       mm `json:"heat_length"`
}

func rulesOf(g glass.Rules) rules {
	return rules{mm(g.Diameter), mm(g.MinRadius), mm(g.CornerRadius), mm(g.DoubleBackRadius), mm(g.Clearance),
		mm(g.BackPlane), mm(g.PlaneStep), mm(g.DipDepth), mm(g.DipRun), mm(g.DipFlat), mm(g.Leg),
		mm(g.MaxUnit), mm(g.Stick), mm(g.HeatLength)}
}

type result struct {
	head     []field
	strokes  []stroke
	units    []unit
	findings []findingEntry
}

type field struct {
	name  string
	value any
}

func newResult(p pattern.Pattern) (*result, error) {
	g := p.Spec.Rules
	text := p.Spec.Text
	if text == nil {
		text = []string{}
	}
	r := &result{head: []field{
		{"format", Format}, {"length_unit", "mm"}, {"frame", "front"},
		{"job", struct {
			Name   string   `json:"name,omitempty"`
			Text   []string `json:"text"`
			Height mm       `json:"height"`
			Font   string   `json:"font,omitempty"`
		}{p.Spec.Name, text, mm(p.Spec.Height), p.Spec.Font}},
		{"tube", struct {
			Diameter  mm `json:"outside_diameter"`
			MinRadius mm `json:"min_bend_radius"`
			Clearance mm `json:"clearance"`
		}{mm(g.Diameter), mm(g.MinRadius), mm(g.Clearance)}},
		{"limits", struct {
			MaxUnit mm `json:"max_unit_length"`
			Stick   mm `json:"stick_length"`
		}{mm(g.MaxUnit), mm(g.Stick)}},
		{"rules", rulesOf(g)},
		{"routing", struct {
			Exact  bool `json:"exact"`
			Cost   mm   `json:"cost"`
			Bound  mm   `json:"bound"`
			Planes int  `json:"planes"`
			Least  int  `json:"least_planes"`
		}{p.Search.Exact, mm(p.Search.Cost), mm(p.Search.Bound), p.Search.Planes, p.Search.LeastPlanes}},
		{"keep_outs", keepOutsOf(p.Spec.Routing.KeepOuts)},
	}}
	for _, s := range p.Strokes {
		path, err := strokePath(s.Path)
		if err != nil {
			return nil, fmt.Errorf("result.json: stroke %s: %w", s.ID, err)
		}
		r.strokes = append(r.strokes, stroke{s.ID, s.Letter, s.Text, s.Path.Closed, path})
	}
	for _, u := range p.Units {
		out, err := unitOf(u, g)
		if err != nil {
			return nil, fmt.Errorf("result.json: unit %s: %w", u.ID, err)
		}
		r.units = append(r.units, out)
	}
	for _, f := range p.Findings {
		r.findings = append(r.findings, findingOf(f))
	}
	return r, nil
}

// keepOut is a place where no electrode may stand: all within reach of the
// points, of the lines between them, or of the area they go round.
type keepOut struct {
	Name   string  `json:"name,omitempty"`
	Points [][2]mm `json:"points"`
	Area   bool    `json:"area"`
	Reach  mm      `json:"reach"`
}

func keepOutsOf(list []route.KeepOut) []keepOut {
	out := []keepOut{}
	for _, k := range list {
		o := keepOut{Name: k.Name, Area: k.Filled, Reach: mm(k.Reach)}
		for _, p := range k.Points {
			o.Points = append(o.Points, [2]mm{mm(p.X), mm(p.Y)})
		}
		out = append(out, o)
	}
	return out
}

func findingOf(f finding.Finding) findingEntry {
	return findingEntry{f.Code, f.Severity.String(), f.Letter, f.Unit, f.Stroke, placeOf(f.At), f.Message(), f.Remedy}
}

func unitOf(u pattern.Unit, rules glass.Rules) (unit, error) {
	segs := make([]geom.Segment3, len(u.Tube))
	for i, p := range u.Tube {
		segs[i] = p.Seg
	}
	path, err := segmentsOf(segs, false)
	if err != nil {
		return unit{}, err
	}
	for i, p := range u.Tube {
		path[i].Role, path[i].Stroke = p.Role.String(), p.Stroke
	}
	out := unit{
		ID: u.ID, Path: path, Developed: mm(u.Tube.Length()),
		Lit: mm(u.Tube.LengthOf(tube.Lit)), Blocked: mm(u.Tube.LengthOf(tube.Hidden)), Legs: mm(u.Tube.LengthOf(tube.Leg)),
		Depth: depth{u.Depth.Planes, mm(u.Depth.Deepest), mm(u.Depth.SupportHeight(rules.Diameter))},
		Rows:  []row{}, StraightAfter: mm(u.Table.StraightAfter), Bends: []heat{},
	}
	for _, r := range u.Table.Rows {
		out.Rows = append(out.Rows, row{mm(r.StraightBefore), degree(r.Rotation.Degrees()), degree(r.Angle.Degrees()), mm(r.Radius), r.Bend})
	}
	strains := bend.Strains(u.Heats, rules)
	for _, h := range u.Heats {
		out.Bends = append(out.Bends, heatOf(u, h, strains))
	}
	out.Parts, out.Sticks = partsOf(u), sticksOf(u)
	for _, e := range u.Electrodes {
		out.Electrodes = append(out.Electrodes, electrode{e.End, placeOf(e.At), directionOf(e.Direction), e.Tubulation})
	}
	for _, c := range u.Cost {
		out.Cost = append(out.Cost, term{c.Name, c.Letter, mm(c.Amount), mm(c.Weight)})
	}
	return out, nil
}

func strokePath(p geom.Path) ([]segment, error) {
	segs := make([]geom.Segment3, len(p.Segments))
	for i, s := range p.Segments {
		segs[i] = geom.Raised(s, 0)
	}
	return segmentsOf(segs, p.Closed)
}

// meets is the largest gap between neighbouring segments, mm.
const meets = 1e-6

func segmentsOf(segs []geom.Segment3, closed bool) ([]segment, error) {
	out := make([]segment, 0, len(segs))
	for i, s := range segs {
		to := s.End()
		if i+1 < len(segs) || closed {
			next := segs[(i+1)%len(segs)].Start()
			if gap := to.Dist(next); !(gap <= meets) {
				return nil, fmt.Errorf("segment %d ends %g mm from where the next one starts; at most %g is allowed", i, gap, meets)
			}
			to = next
		}
		seg := segment{Kind: "line", From: placeOf(s.Start()), To: placeOf(to)}
		if a, ok := s.(geom.Arc3); ok {
			c, axis := placeOf(a.Centre), directionOf(a.Axis)
			seg.Kind, seg.Centre, seg.Axis = "arc", &c, &axis
			seg.Radius, seg.Angle = mm(a.Radius()), degree(a.Angle.Degrees())
		}
		out = append(out, seg)
	}
	return out, nil
}

// write lays the file out for people too: one segment, row, heat or finding a line.
func (r *result) write(buf *bytes.Buffer) error {
	w := &writer{w: bufio.NewWriter(buf)}
	w.text("{\n")
	for _, f := range r.head {
		w.text("  ").value(f.name).text(": ").value(f.value).text(",\n")
	}
	w.text("  \"strokes\": [")
	for i, s := range r.strokes {
		w.comma(i, "    ")
		w.text("{\"id\": ").value(s.ID).text(", \"letter\": ").value(s.Letter).text(", \"text\": ").value(s.Text)
		w.text(", \"closed\": ").value(s.Closed).text(", \"path\": ")
		list(w, s.Path, "      ")
		w.text("}")
	}
	w.text("\n  ],\n  \"units\": [")
	for i, u := range r.units {
		w.comma(i, "    ")
		w.unit(u)
	}
	w.text("\n  ],\n  \"findings\": ")
	list(w, r.findings, "    ")
	w.text("\n}\n")
	if w.err != nil {
		return w.err
	}
	return w.w.Flush()
}

type writer struct {
	w   *bufio.Writer
	err error // the first of marshalling
}

func (w *writer) text(s string) *writer {
	_, _ = w.w.WriteString(s) // the writer keeps its first error for Flush
	return w
}

func (w *writer) value(v any) *writer {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil && w.err == nil {
		w.err = err
	}
	return w.text(string(bytes.TrimSuffix(b.Bytes(), []byte("\n"))))
}

// comma starts element i of a list on a line of its own.
func (w *writer) comma(i int, indent string) {
	if i > 0 {
		w.text(",")
	}
	w.text("\n" + indent)
}

func (w *writer) unit(u unit) {
	w.text("{\"id\": ").value(u.ID).text(",\n     \"path\": ")
	list(w, u.Path, "      ")
	for _, f := range []field{{"developed_length", u.Developed}, {"lit_length", u.Lit}, {"blocked_length", u.Blocked}, {"leg_length", u.Legs}} {
		w.text(",\n     ").value(f.name).text(": ").value(f.value)
	}
	w.text(",\n     \"rows\": ")
	list(w, u.Rows, "      ")
	w.text(",\n     \"straight_after\": ").value(u.StraightAfter).text(",\n     \"bends\": ")
	list(w, u.Bends, "      ")
	w.text(",\n     \"parts\": ")
	list(w, u.Parts, "      ")
	w.text(",\n     \"sticks\": ")
	list(w, u.Sticks, "      ")
	w.text(",\n     \"electrodes\": ")
	list(w, u.Electrodes, "      ")
	w.text(",\n     \"depth\": ").value(u.Depth).text(",\n     \"cost\": ")
	list(w, u.Cost, "      ")
	w.text("}")
}

func list[T any](w *writer, items []T, indent string) {
	w.text("[")
	for i, v := range items {
		w.comma(i, indent)
		w.value(v)
	}
	w.text("]")
}
