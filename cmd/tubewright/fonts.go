package main

import (
	"fmt"
	"os"
	"strings"
	"text/tabwriter"

	"tubewright/cmd/tubewright/job"
	"tubewright/fonts"
	"tubewright/geom"

	"github.com/spf13/pflag"
)

// maxFont is the most bytes of a font file: the largest faces for Chinese,
// Japanese and Korean take about 30 MB.
const maxFont = 64 << 20

// openFace returns the face a job asks for: built in, or read from its file.
func openFace(font string) (*fonts.Face, error) {
	if !job.IsFontFile(font) {
		return fonts.Open(font)
	}
	f, err := os.Open(font)
	if err != nil {
		return nil, fmt.Errorf("font file: %w; tubewright fonts lists the built-in faces", err)
	}
	defer f.Close()
	data, err := readBounded(f, font, maxFont)
	if err != nil {
		return nil, err
	}
	return fonts.Parse(data, font)
}

// fonts lists the built-in faces, or grades one face for tube.
func (c *console) fonts(args []string) (int, error) {
	o, err := parse("fonts", args, gradeSettings(), func(fs *pflag.FlagSet, o *options) {
		fs.BoolVar(&o.licence, "licence", false, "")
		fs.StringVar(&o.format, "format", "text", "")
		fs.StringVar(&o.outFile, "out", "", "")
		fs.BoolVar(&o.force, "force", false, "")
		fs.BoolVar(&c.quiet, "quiet", false, "")
	})
	if err != nil {
		return 0, err
	}
	if err := oneOf("format", o.format, "text", "json"); err != nil {
		return 0, err
	}
	switch {
	case len(o.args) > 1:
		return 0, usagef("fonts takes one face or file, not %d (%s)", len(o.args), strings.Join(o.args, ", "))
	case len(o.args) == 1:
		return statusClean, c.oneFace(o)
	case o.licence:
		return 0, usagef("--licence needs the name of a face, as in tubewright fonts vibur --licence")
	case len(o.values) > 0 || o.outFile != "" || o.format != "text":
		return 0, usagef("a grade needs a face, as in tubewright fonts vibur --tube 12mm")
	}
	w := tabwriter.NewWriter(c.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "NAME\tKIND\tLICENCE\tNOTE")
	for _, i := range fonts.Builtin() {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", i.Name, i.Kind, i.Licence, i.Note)
	}
	return statusClean, w.Flush()
}

// oneFace tells what a face says of itself and how it suits a tube, or its
// licence.
func (c *console) oneFace(o *options) error {
	face, err := openFace(o.args[0])
	if err != nil {
		return err
	}
	if o.licence {
		if face.Licence() == "" {
			return fmt.Errorf("the font %s states no licence; ask whoever it came from", o.args[0])
		}
		_, err := fmt.Fprintln(c.out, strings.TrimSpace(face.Licence()))
		return err
	}
	if o.format == "text" {
		if err := c.describeFace(face); err != nil {
			return err
		}
	}
	return c.gradeCommand(o, face)
}

// describeFace tells what a face says of itself.
func (c *console) describeFace(face *fonts.Face) error {
	kind := fonts.Outline
	if face.IsSingleLine() {
		kind = fonts.SingleLine
	}
	m := face.Metrics()
	w := tabwriter.NewWriter(c.out, 16, 0, 2, ' ', 0)
	for _, row := range [][2]string{
		{"name", face.Name()},
		{"family", face.Family()},
		{"kind", kind.String()},
		{"copyright", face.Copyright()},
		{"units per em", fmt.Sprint(m.UnitsPerEm)},
		{"capital height", geom.FormatNumber(m.CapHeight, 3) + " em, from " + m.CapHeightFrom},
		{"sha256", face.SHA256()},
	} {
		if row[1] != "" {
			fmt.Fprintf(w, "%s:\t%s\n", row[0], row[1])
		}
	}
	return w.Flush()
}
