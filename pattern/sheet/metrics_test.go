package sheet

import (
	"bytes"
	"flag"
	"fmt"
	"go/format"
	"os"
	"testing"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

var update = flag.Bool("update", false, "write metrics_table.go anew from the fonts")

const tableFile = "metrics_table.go"

// TestMetricsAreTheFonts reads the fonts themselves, so that the table cannot
// drift from what the PDF embeds.
func TestMetricsAreTheFonts(t *testing.T) {
	want := tableSource(t)
	if *update {
		if err := os.WriteFile(tableFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(tableFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is not what the fonts say; run go test ./pattern/sheet -update", tableFile)
	}
	// Heights used for boxes: capitals, and the extremes of printable ASCII.
	f, buf := parse(t, goregular.TTF), new(sfnt.Buffer)
	em := fixed.I(2048)
	for r := rune(' '); r <= '~'; r++ {
		i, err := f.GlyphIndex(buf, r)
		if err != nil {
			t.Fatal(err)
		}
		b, _, err := f.GlyphBounds(buf, i, em, font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		top, bottom := -float64(b.Min.Y)/64/2048, float64(b.Max.Y)/64/2048
		if top > ascent || bottom > descent {
			t.Errorf("%q reaches from %.3f under to %.3f em over the baseline, boxes from %v to %v", r, bottom, top, descent, ascent)
		}
		if r == 'H' && (top-capHeight > 0.001 || capHeight-top > 0.001) {
			t.Errorf("capitals are %.4f em high, not %v", top, capHeight)
		}
	}
}

func parse(t *testing.T, ttf []byte) *sfnt.Font {
	t.Helper()
	f, err := sfnt.Parse(ttf)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// units returns the advance of every character from 0x20 to 0x2fff, 0 where
// the font has none.
func units(t *testing.T, ttf []byte) []uint16 {
	f, buf := parse(t, ttf), new(sfnt.Buffer)
	out := make([]uint16, 0x3000)
	for r := rune(' '); r < rune(len(out)); r++ {
		i, err := f.GlyphIndex(buf, r)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 || r == 0x7f {
			continue
		}
		a, err := f.GlyphAdvance(buf, i, fixed.I(2048), font.HintingNone)
		if err != nil {
			t.Fatal(err)
		}
		out[r] = uint16(a.Round())
	}
	return out
}

func tableSource(t *testing.T) []byte {
	var b bytes.Buffer
	b.WriteString("package sheet\n\n// Written by go test ./pattern/sheet -update from the Go fonts of\n// golang.org/x/image/font/gofont; 2048 units an em. Read only.\n\n")
	mono := units(t, gomono.TTF)
	fmt.Fprintf(&b, "const monoAdvance = %d\n\n", mono['n'])
	for _, f := range []struct {
		name string
		ttf  []byte
	}{{"regular", goregular.TTF}, {"bold", gobold.TTF}} {
		fmt.Fprintf(&b, "var %sAdvances = []advances{\n", f.name)
		u := units(t, f.ttf)
		for i := 0; i < len(u); i++ {
			if u[i] == 0 {
				continue
			}
			j := i
			for j < len(u) && (u[j] > 0 || j+1 < len(u) && u[j+1] > 0) {
				j++
			}
			fmt.Fprintf(&b, "\t{%#x, []uint16{", i)
			for k := i; k < j; k++ {
				if k > i {
					b.WriteString(", ")
				}
				fmt.Fprint(&b, u[k])
			}
			b.WriteString("}},\n")
			i = j
		}
		b.WriteString("}\n\n")
	}
	out, err := format.Source(b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	return out
}
