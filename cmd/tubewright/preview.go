package main

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // a wall may be a JPEG or a PNG
	_ "image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"

	"tubewright/cmd/tubewright/job"
	"tubewright/pattern/export"
	"tubewright/pattern/look"
	"tubewright/pattern/preview"
	"tubewright/pattern/proof"
	"tubewright/pattern/shop/quantity"
	"tubewright/pattern/support"

	"github.com/spf13/pflag"
)

// proofFlags are what a proof can be asked for beside the job.
type proofFlags struct {
	width, wall, time string
	noScale           bool
}

// proof writes proof.png and proof.svg: the sign as the customer will see it.
func (c *console) proof(args []string) (int, error) {
	var f proofFlags
	o, err := parse("proof", args, makeSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.StringVar(&f.width, "width", "2000", "")
		fs.StringVar(&f.wall, "wall", string(proof.DarkWall), "")
		fs.StringVar(&f.time, "time", string(proof.Night), "")
		fs.BoolVar(&f.noScale, "no-person", false, "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	opt, err := f.options()
	if err != nil {
		return 0, err
	}
	j, side, err := c.lookAt(o)
	if err != nil {
		return 0, err
	}
	files, err := side.proofFiles(opt)
	if err != nil {
		return 0, err
	}
	if err := writeFiles(j.Out, files, o.force); err != nil {
		return 0, err
	}
	c.sayWritten(j.Out, files)
	return statusClean, nil
}

// proofFiles makes proof.png and proof.svg.
func (s shopSide) proofFiles(opt proof.Options) ([]file, error) {
	spans, err := s.spans()
	if err != nil {
		return nil, err
	}
	opt.Support, opt.Gap = s.supportRule(), s.gap()
	scene, err := proof.NewScene(s.p, spans, opt)
	if err != nil {
		return nil, err
	}
	return encodeAll([]output{
		{"proof.png", proof.Mark, scene.WritePNG},
		{"proof.svg", `data-tubewright="proof"`, scene.WriteSVG},
	})
}

// options reads the flags.
func (f proofFlags) options() (proof.Options, error) {
	opt := proof.Options{Wall: proof.Wall(f.wall), Time: proof.Time(f.time), NoScale: f.noScale}
	if err := oneOf("time", f.time, string(proof.Night), string(proof.Day)); err != nil {
		return opt, err
	}
	n, err := strconv.Atoi(f.width)
	if err != nil || n < proof.MinWidth || n > proof.MaxWidth {
		return opt, usagef("--width %q: write a whole number of pixels from %d to %d", f.width, proof.MinWidth, proof.MaxWidth)
	}
	opt.Width = n
	if slices.Contains(proof.Walls(), opt.Wall) {
		return opt, nil
	}
	if _, err := os.Stat(f.wall); err != nil {
		return opt, usagef("--wall %q: write dark, brick, light, or the name of a PNG or JPEG file", f.wall)
	}
	opt.Wall = proof.PictureWall
	opt.Picture, err = readPicture(f.wall)
	return opt, err
}

// The most of a picture of a wall that is read.
const (
	maxPictureFile = 64 << 20
	maxPicturePix  = 64 << 20
)

func readPicture(name string) (image.Image, error) {
	r, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("wall: %w", err)
	}
	defer r.Close()
	data, err := readBounded(r, name, maxPictureFile)
	if err != nil {
		return nil, err
	}
	cfg, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("wall: %s is no PNG or JPEG picture: %w; save it as one of them", name, err)
	}
	if cfg.Width < 1 || cfg.Height < 1 || cfg.Width > maxPicturePix/cfg.Height {
		return nil, fmt.Errorf("wall: %s has %d × %d pixels; make it smaller than %d million", name, cfg.Width, cfg.Height, maxPicturePix>>20)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("wall: %s: %w", name, err)
	}
	return img, nil
}

// lookAt carries out a job as far as it can be looked at.
func (c *console) lookAt(o *options) (job.Job, shopSide, error) {
	var side shopSide
	j, err := c.readJob(o)
	if err != nil {
		return j, side, err
	}
	set, err := readTables(j.Shop.Tables)
	if err != nil {
		return j, side, err
	}
	spec, err := shopSpec(j.Shop, set)
	if err != nil {
		return j, side, err
	}
	p, err := makePattern(j)
	if err != nil {
		return j, side, err
	}
	side, err = makeShop(p, spec)
	return j, side, err
}

// spans returns the light of each stretch of each unit.
func (s shopSide) spans() ([]proof.Span, error) {
	var out []proof.Span
	for _, u := range s.plan.Units {
		at := 0.0
		for _, sp := range u.Spans {
			l, err := look.Find(s.plan.Tables, sp.Colour)
			if err != nil {
				return nil, err
			}
			out = append(out, proof.Span{Unit: u.ID, At: at, Light: l})
			at += sp.Length.Float(quantity.Millimetre)
		}
	}
	return out, nil
}

// supportRule is the shop's rule of where supports go.
func (s shopSide) supportRule() support.Rule {
	cell := func(name string) float64 {
		return s.plan.Tables.Cell("supports", name, quantity.Millimetre).Float(quantity.Millimetre)
	}
	return support.Rule{Spacing: cell("support-spacing"), FromEnd: cell("support-electrode")}
}

// preview writes preview.html: the glass in three dimensions.
func (c *console) preview(args []string) (int, error) {
	open := false
	o, err := parse("preview", args, makeSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.BoolVar(&open, "open", false, "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	j, side, err := c.lookAt(o)
	if err != nil {
		return 0, err
	}
	page, err := side.page()
	if err != nil {
		return 0, err
	}
	if err := writeFiles(j.Out, []file{page}, o.force); err != nil {
		return 0, err
	}
	c.sayWritten(j.Out, []file{page})
	if open {
		return statusClean, openPage(filepath.Join(j.Out, page.name))
	}
	return statusClean, nil
}

// page makes preview.html.
func (s shopSide) page() (file, error) {
	spans, err := s.spans()
	if err != nil {
		return file{}, err
	}
	var result bytes.Buffer
	if err := export.WriteResult(&result, s.p); err != nil {
		return file{}, err
	}
	job := preview.Job{Pattern: s.p, Result: result.Bytes(), Support: s.supportRule(), Gap: s.gap()}
	for _, sp := range spans {
		job.Spans = append(job.Spans, preview.Span(sp))
	}
	files, err := encodeAll([]output{{"preview.html", `<meta name="generator" content="tubewright">`, func(w io.Writer) error { return preview.Write(w, job) }}})
	if err != nil {
		return file{}, err
	}
	return files[0], nil
}

// gap returns the air between glass and wall that the shop keeps.
func (s shopSide) gap() float64 {
	return s.plan.Tables.Cell("supports", "surface-gap", quantity.Millimetre).Float(quantity.Millimetre)
}

// openPage asks the desktop to show a file.
func openPage(path string) error {
	name, args := "xdg-open", []string{path}
	switch runtime.GOOS {
	case "darwin":
		name = "open"
	case "windows":
		name, args = "rundll32", []string{"url.dll,FileProtocolHandler", path}
	}
	if err := exec.Command(name, args...).Start(); err != nil {
		return fmt.Errorf("cannot open %s: %w; open it in a browser by hand", path, err)
	}
	return nil
}
