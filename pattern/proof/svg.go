package proof

import (
	"bufio"
	"bytes"
	"encoding/base64"
	"encoding/xml"
	"fmt"
	"image/png"
	"io"
	"math"
	"strings"

	"tubewright/geom"
	"tubewright/pattern/look"
	"tubewright/pattern/tube"
)

// WriteSVG writes the scene as an SVG at true size: 1 unit is 1 mm, right-reading, y
// down from the upper edge. The glow is a few blurs added up in linear light; each
// run of glass is a path with its unit and role as attributes.
func (s *Scene) WriteSVG(w io.Writer) error {
	e := &svgWriter{w: bufio.NewWriter(w), s: s}
	e.head()
	if err := e.wall(); err != nil {
		return err
	}
	e.person()
	e.glow()
	e.glass()
	e.put("</svg>\n")
	return e.w.Flush()
}

type svgWriter struct {
	w *bufio.Writer
	s *Scene
}

func (e *svgWriter) put(format string, args ...any) {
	_, _ = fmt.Fprintf(e.w, format, args...) // the writer keeps its first error for Flush
}

func num(v float64) string { return geom.FormatNumber(v, 3) }

// at returns a place in the drawing.
func (e *svgWriter) at(p geom.Point) string {
	return num(p.X-e.s.frame.Min.X) + " " + num(e.s.frame.Max.Y-p.Y)
}

func escaped(s string) string {
	var b bytes.Buffer
	if err := xml.EscapeText(&b, []byte(s)); err != nil {
		panic(err) // a bytes.Buffer takes everything
	}
	return b.String()
}

func (e *svgWriter) head() {
	f := e.s.frame
	e.put(`<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" data-tubewright="proof" data-frame="front" role="img">`+"\n",
		num(f.Width()), num(f.Height()), num(f.Width()), num(f.Height()))
	e.put("<title>%s</title>\n", escaped("Proof: "+e.s.name))
	words := fmt.Sprintf("The sign %q, lit, as it is read, by %s on a %s wall. 1 unit is 1 mm; a place (x, y) of the front frame is at (x - %s, %s - y).",
		strings.Join(e.s.text, " / "), e.s.opt.Time, e.s.opt.Wall, num(f.Min.X), num(f.Max.Y))
	if e.s.figure != nil {
		words += fmt.Sprintf(" The person is %.0f mm tall.", personHeight)
	}
	e.put("<desc>%s</desc>\n<defs>\n", escaped(words))
	for i, b := range bells() {
		reach := 3 * b.sigma * -e.s.wallZ
		e.put(`<filter id="glow%d" filterUnits="userSpaceOnUse" x="%s" y="%s" width="%s" height="%s" color-interpolation-filters="linearRGB"><feGaussianBlur stdDeviation="%s"/></filter>`+"\n",
			i, num(-reach), num(-reach), num(f.Width()+float64(2*reach)), num(f.Height()+float64(2*reach)), num(b.sigma*-e.s.wallZ))
	}
	if e.s.opt.Wall == BrickWall {
		brick := hex(screenOf(brickTone().lit(e.s.opt.exposure().sky)))
		mortar := hex(screenOf(mortarTone().times(0.62).lit(e.s.opt.exposure().sky)))
		e.put(`<pattern id="brick" width="%g" height="%g" patternUnits="userSpaceOnUse"><rect width="%g" height="%g" fill="%s"/><g fill="%s"><rect x="5" y="5" width="215" height="65"/><rect x="-107.5" y="80" width="215" height="65"/><rect x="117.5" y="80" width="215" height="65"/></g></pattern>`+"\n",
			brickWide, 2*brickHigh, brickWide, 2*brickHigh, mortar, brick)
	}
	e.put("</defs>\n")
}

func (e *svgWriter) wall() error {
	ex := e.s.opt.exposure()
	fill := hex(screenOf(e.s.wallTone().lit(ex.sky)))
	switch e.s.opt.Wall {
	case BrickWall:
		fill = "url(#brick)"
	case PictureWall:
		return e.picture(ex.sky)
	}
	e.put(`<rect id="wall" width="100%%" height="100%%" fill="%s"/>`+"\n", fill)
	return nil
}

// picture embeds the user's picture, darkened as the sky asks.
func (e *svgWriter) picture(sky colour3) error {
	var b bytes.Buffer
	if err := png.Encode(&b, e.s.opt.Picture); err != nil {
		return fmt.Errorf("proof: the picture of the wall: %w", err)
	}
	e.put(`<image id="wall" width="100%%" height="100%%" preserveAspectRatio="xMidYMid slice" href="data:image/png;base64,%s"/>`+"\n",
		base64.StdEncoding.EncodeToString(b.Bytes()))
	if e.s.opt.Time == Night {
		e.put(`<rect width="100%%" height="100%%" fill="#05070c" opacity="%s"/>`+"\n", num(1-math.Pow(float64(sky[1]), 1/2.2)))
	}
	return nil
}

// d returns the path of a run.
func (e *svgWriter) d(pts []geom.Point3) string {
	var b strings.Builder
	for i, p := range pts {
		b.WriteString([]string{"L", "M"}[btoi(i == 0)] + e.at(p.Plan()))
	}
	return b.String()
}

func btoi(v bool) int {
	if v {
		return 1
	}
	return 0
}

// glow adds the light of the glass on the wall and in the eye.
func (e *svgWriter) glow() {
	ex := e.s.opt.exposure()
	d := e.s.diameter
	// Light adds up in linear light, and layers of an SVG do not: its power of 0.6 and
	// broader strokes come near it to the eye.
	thrown := float64(ex.tube*ex.wall*e.s.wallTone()[0]) * math.Pi / 2
	broad := min(max(1, math.Sqrt(thrown)), 1.6)
	for i, b := range bells() {
		e.put(`<g filter="url(#glow%d)" style="mix-blend-mode:screen" opacity="%s" fill="none" stroke-width="%s" stroke-linecap="round">`+"\n",
			i, num(min(1, 1.3*math.Pow(thrown*b.share, 0.6))), num(broad*d*(1+float64(0.25*float64(i)))))
		for _, r := range e.s.runs {
			if r.role == tube.Lit {
				e.put(`<path d="%s" stroke="%s"/>`+"\n", e.d(r.pts), hex(encoded(e.onWall(r.light.RGB))))
			}
		}
		e.put("</g>\n")
	}
}

// onWall returns the hue of a light that the wall throws back, the greatest
// component 1, deeper than it is: layers over each other grow pale.
func (e *svgWriter) onWall(light [3]float64) [3]float64 {
	for k, v := range e.s.wallTone() {
		light[k] *= float64(v)
	}
	most := max(light[0], light[1], light[2])
	for k := range light {
		light[k] = math.Pow(light[k]/most, 1.5)
	}
	return light
}

// glass draws every run, the deepest first, then what lights.
func (e *svgWriter) glass() {
	ex, d := e.s.opt.exposure(), e.s.diameter
	e.put(`<g id="fittings" fill="none" stroke="#9aa0a3" stroke-opacity="0.35" stroke-linecap="round">` + "\n")
	for _, f := range e.s.fittings() {
		last := f.pts[len(f.pts)-1]
		e.put(`<path data-kind="%s" data-unit="%s" stroke-width="%s" d="M%sL%s"/>`+"\n", f.kind, escaped(f.unit), num(2*f.radius), e.at(f.pts[0]), e.at(last))
	}
	e.put("</g>\n" + `<g id="glass" fill="none" stroke-linecap="round" stroke-linejoin="round">` + "\n")
	for _, r := range e.s.byDepth() {
		path := fmt.Sprintf(`d="%s" data-unit="%s" data-role="%s"`, e.d(r.pts), escaped(r.unit), r.role)
		switch r.role {
		case tube.Hidden:
			e.put(`<path %s stroke="%s" stroke-width="%s"/>`+"\n", path, hex(screenOf(colour3{0.012, 0.012, 0.013}.lit(ex.sky))), num(d))
		case tube.Leg:
			e.put(`<path %s stroke="#8e9496" stroke-opacity="0.3" stroke-width="%s"/>`+"\n", path, num(d))
		default:
			edge, core := e.tones(r)
			e.put(`<g data-colour="%s"><path %s stroke="%s" stroke-width="%s"/><path d="%s" stroke="%s" stroke-width="%s"/></g>`+"\n",
				escaped(r.light.Colour), path, edge, num(d), e.d(r.pts), core, num(0.62*d))
		}
	}
	e.put("</g>\n")
}

// tones returns the colours of the rim and of the middle of lit glass.
func (e *svgWriter) tones(r run) (edge, core string) {
	tone := func(across float32) string {
		var c colour3
		for k := range c {
			c[k] = shine(across, r.role, isCoated(r.light)) * e.s.opt.exposure().tube * float32(r.light.RGB[k])
		}
		return hex(screenOf(c))
	}
	return tone(0.95), tone(0.3)
}

func (e *svgWriter) person() {
	if e.s.figure == nil {
		return
	}
	at := func(p [2]float64) string {
		return e.at(geom.Point{X: e.s.figure.X + float64(p[0]*personHeight), Y: e.s.figure.Y + float64(p[1]*personHeight)})
	}
	var b strings.Builder
	pts := personPath()
	b.WriteString("M" + at(pts[0]))
	for i := 1; i+2 < len(pts); i += 3 {
		b.WriteString("C" + at(pts[i]) + " " + at(pts[i+1]) + " " + at(pts[i+2]))
	}
	for i := len(pts) - 1; i >= 3; i -= 3 {
		b.WriteString("C" + at(mirrored(pts[i-1])) + " " + at(mirrored(pts[i-2])) + " " + at(mirrored(pts[i-3])))
	}
	e.put(`<path id="person" d="%sZ" fill="%s"><title>a person of %.0f mm</title></path>`+"\n", b.String(), hex(screenOf(e.s.personTone())), personHeight)
}

// screenOf puts linear light into the curve of the picture.
func screenOf(c colour3) [3]byte {
	curve := screenCurve()
	most := max(c[0], c[1], c[2])
	var out [3]byte
	for k := range out {
		out[k] = curve.shown(whitened(c[k], most), 0.5)
	}
	return out
}

// encoded puts a linear colour into sRGB as it is.
func encoded(c [3]float64) [3]byte {
	var out [3]byte
	for k, v := range c {
		out[k] = byte(float64(255*look.Encoded(v)) + 0.5)
	}
	return out
}

func hex(c [3]byte) string { return fmt.Sprintf("#%02x%02x%02x", c[0], c[1], c[2]) }
