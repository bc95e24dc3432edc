package record

import (
	"bytes"
	"compress/zlib"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"strings"
	"testing"
)

// packed is a small PDF whose page is packed at a level; 0 stands it in whole, by the
// rules of zlib.
func packed(t *testing.T, page string, level int) []byte {
	t.Helper()
	var z, out bytes.Buffer
	w, err := zlib.NewWriterLevel(&z, level)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := w.Write([]byte(page)); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&out, "%%PDF-1.5\n1 0 obj\n<</Filter /FlateDecode /Length %d>>\nstream\n%s\nendstream\nendobj\n", z.Len(), z.Bytes())
	at := out.Len()
	fmt.Fprintf(&out, "2 0 obj\n<</Length 12>>\nstream\nplain stream\nendstream\nendobj\n")
	start := out.Len()
	fmt.Fprintf(&out, "xref\n0 3\n0000000000 65535 f \n0000000009 00000 n \n%010d 00000 n \ntrailer\n<<\n/Size 3\n>>\nstartxref\n%d\n%%%%EOF\n", at, start)
	return out.Bytes()
}

// A PDF packed in another way is the same; another page, another plain stream, another
// object are not. What is no sound PDF is hashed as it stands.
func TestHashOfAPDFIsOfItsContent(t *testing.T) {
	page := strings.Repeat("10 20 m 30 40 l S\n", 200)
	best, whole := packed(t, page, zlib.BestCompression), packed(t, page, zlib.NoCompression)
	if bytes.Equal(best, whole) {
		t.Fatal("both are packed alike: the test looks at nothing")
	}
	want := HashOf("a.pdf", best)
	if got := HashOf("b.PDF", whole); got.SHA256 != want.SHA256 || want.Of != content || got.Of != content {
		t.Errorf("%+v and %+v", want, got)
	}
	for name, other := range map[string][]byte{
		"another page":    packed(t, strings.Replace(page, "10", "11", 1), zlib.BestCompression),
		"another stream":  bytes.Replace(best, []byte("plain"), []byte("plane"), 1),
		"another object":  bytes.Replace(best, []byte("\n2 0 obj"), []byte("\n4 0 obj"), 1),
		"another trailer": bytes.Replace(best, []byte("/Size 3"), []byte("/Size 4"), 1),
	} {
		if got := HashOf("a.pdf", other); got.SHA256 == want.SHA256 {
			t.Errorf("%s has the same hash", name)
		}
	}
	for name, broken := range map[string][]byte{
		"cut short": best[:len(best)/2], "no PDF": []byte("text"), "nothing": nil,
		"a wrong length":   bytes.Replace(best, []byte("/Length 12"), []byte("/Length 13"), 1),
		"a spoilt stream":  bytes.Replace(best, []byte("stream\n\x78"), []byte("stream\n\x79"), 1),
		"without a length": bytes.Replace(best, []byte("/Length 12"), nil, 1),
	} {
		if got := HashOf("a.pdf", broken); got.Of != "" || got.SHA256 != sumOf(broken) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}

func TestHashOfAPictureIsOfItsPixels(t *testing.T) {
	picture := func(level png.CompressionLevel, at color.NRGBA) []byte {
		img := image.NewNRGBA(image.Rect(0, 0, 40, 30))
		for i := range img.Pix {
			img.Pix[i] = byte(i / 7)
		}
		img.SetNRGBA(3, 4, at)
		var b bytes.Buffer
		if err := (&png.Encoder{CompressionLevel: level}).Encode(&b, img); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	at := color.NRGBA{200, 10, 20, 255}
	best, fast := picture(png.BestCompression, at), picture(png.NoCompression, at)
	if bytes.Equal(best, fast) {
		t.Fatal("both are packed alike: the test looks at nothing")
	}
	a, b, c := HashOf("p.png", best), HashOf("p.png", fast), HashOf("p.png", picture(png.BestCompression, color.NRGBA{200, 10, 21, 255}))
	if a != b || a.SHA256 == c.SHA256 || a.Of != content {
		t.Errorf("%+v, packed otherwise %+v, one pixel otherwise %+v", a, b, c)
	}
	if got := HashOf("p.png", best[:60]); got.Of != "" {
		t.Errorf("half a picture: %+v", got)
	}
}

// A record that has the hash of the bytes is held against the bytes.
func TestOldHashesHold(t *testing.T) {
	data := packed(t, "0 0 m", 9)
	old := []Hash{{Name: "U1.pdf", SHA256: sumOf(data)}}
	if got := Compare(old, []File{{"U1.pdf", data}}); len(got) != 0 {
		t.Errorf("the same bytes: %v", got)
	}
	if got := Compare(old, []File{{"U1.pdf", packed(t, "0 0 m", 0)}}); len(got) != 1 {
		t.Error("other bytes are not told")
	}
}
