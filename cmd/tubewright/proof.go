package main

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // a wall may be a JPEG or a PNG
	_ "image/png"
	"os"
	"strconv"

	"tubewright/cmd/tubewright/job"
	"tubewright/pattern/proof"

	"github.com/spf13/pflag"
)

// proof writes proof.png and proof.svg: the sign as the customer will see it.
func (c *console) proof(args []string) (int, error) {
	o, err := parse("proof", args, makeSettings(), func(fs *pflag.FlagSet, o *options) {
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
	files, err := side.proofFiles(j.Proof)
	if err != nil {
		return 0, err
	}
	if err := writeFiles(j.Out, files, o.force); err != nil {
		return 0, err
	}
	c.sayWritten(j.Out, files)
	return statusClean, nil
}

// proofFiles makes proof.png and proof.svg, and where the job asks for both times
// also those by day.
func (s shopSide) proofFiles(p job.Proof) ([]file, error) {
	opt, err := proofOptions(p)
	if err != nil {
		return nil, err
	}
	opt.Support, opt.Gap = s.supportRule(), s.gap()
	if p.Time == string(proof.Day) {
		opt.Time = proof.Day
	}
	out, err := s.proofAt(opt, "proof")
	if err != nil || p.Time != "both" {
		return out, err
	}
	opt.Time = proof.Day
	day, err := s.proofAt(opt, "proof-day")
	return append(out, day...), err
}

func (s shopSide) proofAt(opt proof.Options, name string) ([]file, error) {
	spans, err := s.spans()
	if err != nil {
		return nil, err
	}
	scene, err := proof.NewScene(s.p, spans, opt)
	if err != nil {
		return nil, err
	}
	return encodeAll([]output{
		{name + ".png", proof.Mark, scene.WritePNG},
		{name + ".svg", `data-tubewright="proof"`, scene.WriteSVG},
	})
}

// proofOptions turns the words of a job into how its proof looks.
func proofOptions(p job.Proof) (proof.Options, error) {
	opt := proof.Options{Width: 1600, Wall: proof.Wall(p.Wall), NoScale: p.Person == "no"}
	if p.Width != "" {
		n, err := strconv.Atoi(p.Width)
		if err != nil || n < proof.MinWidth || n > proof.MaxWidth {
			return opt, fmt.Errorf("proof-width: %q is not a whole number of pixels from %d to %d", p.Width, proof.MinWidth, proof.MaxWidth)
		}
		opt.Width = n
	}
	if p.Picture == "" {
		return opt, nil
	}
	opt.Wall = proof.PictureWall
	var err error
	opt.Picture, err = readPicture(p.Picture)
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
		return nil, fmt.Errorf("proof-picture: %w", err)
	}
	defer r.Close()
	data, err := readBounded(r, name, maxPictureFile)
	if err != nil {
		return nil, err
	}
	cfg, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("proof-picture: %s is no PNG or JPEG picture: %w; save it as one of them", name, err)
	}
	if cfg.Width < 1 || cfg.Height < 1 || cfg.Width > maxPicturePix/cfg.Height {
		return nil, fmt.Errorf("proof-picture: %s has %d × %d pixels; make it smaller than %d million", name, cfg.Width, cfg.Height, maxPicturePix>>20)
	}
	img, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("proof-picture: %s: %w", name, err)
	}
	return img, nil
}
