package pdf

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"tubewright/geom"
	"tubewright/pattern/sheet"
	"tubewright/pattern/words"
)

func small(width, height float64) *sheet.Sheet {
	pen := sheet.Pen{Width: 0.35, Colour: sheet.Grey(0)}
	return &sheet.Sheet{
		Width: width, Height: height, Title: "Rye & Salt – ½", Description: "a test", Frame: sheet.Bench,
		Layers: []sheet.Layer{
			{ID: "glass", Name: "Glass", Groups: []sheet.Group{{ID: "g", Items: []sheet.Item{
				sheet.Shape{Paths: []geom.Path{sheet.Polyline(geom.Point{X: 10, Y: 20}, geom.Point{X: 110, Y: 20})}, Pen: pen},
				sheet.Shape{Paths: []geom.Path{sheet.Circle(geom.Point{X: 50, Y: 50}, 6)}, Fill: sheet.Grey(0)},
			}}}},
			{ID: "notes", Name: "Notes", Groups: []sheet.Group{{ID: "n", Items: []sheet.Item{
				sheet.Text{At: geom.Point{X: 5, Y: 5}, Text: "Heat (7) \\ ½", Size: 4, Turn: 90 * geom.Degree, Colour: sheet.Grey(0)},
				sheet.Text{At: geom.Point{X: 20, Y: 5}, Text: "BENCH", Size: 4, Font: sheet.Bold, Anchor: sheet.End, Colour: sheet.Grey(0)},
			}}}},
		},
	}
}

func encoded(t *testing.T, s *sheet.Sheet) []byte {
	t.Helper()
	var buf bytes.Buffer
	if err := Encode(&buf, s); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

func TestCatalogueAsksNotToScale(t *testing.T) {
	file := encoded(t, small(200, 100))
	catalogue := regexp.MustCompile(`(?s)<<\n/Type /Catalog.*?endobj`).Find(file)
	if !bytes.Contains(catalogue, []byte("/ViewerPreferences <</PrintScaling /None>>")) {
		t.Errorf("the catalogue asks for nothing: %s", catalogue)
	}
}

// Every offset in the cross-reference table is that of its object, and startxref
// that of the table: the law that the added entry must not break.
func TestCrossReferencesHold(t *testing.T) {
	file := encoded(t, small(200, 100))
	tail := regexp.MustCompile(`startxref\n(\d+)\n%%EOF\n?$`).FindSubmatch(file)
	if tail == nil {
		t.Fatalf("no startxref at the end: %q", file[len(file)-60:])
	}
	start, err := strconv.Atoi(string(tail[1]))
	if err != nil || !bytes.HasPrefix(file[start:], []byte("xref\n0 ")) {
		t.Fatalf("startxref %s points at %q", tail[1], file[start:start+20])
	}
	entries := regexp.MustCompile(`(\d{10}) 00000 n `).FindAllSubmatch(file[start:], -1)
	if len(entries) < 10 {
		t.Fatalf("%d objects", len(entries))
	}
	for i, e := range entries {
		at, err := strconv.Atoi(string(e[1]))
		if want := fmt.Sprintf("%d 0 obj", i+1); err != nil || !bytes.HasPrefix(file[at:], []byte(want)) {
			t.Errorf("entry of object %d points at %q", i+1, file[at:at+12])
		}
	}
}

func TestAddingToAnotherFileFails(t *testing.T) {
	good := encoded(t, small(200, 100))
	for name, file := range map[string][]byte{
		"empty":           nil,
		"no table":        []byte("%PDF-1.5\n>>\nendobj\n"),
		"wrong startxref": bytes.Replace(good, []byte("startxref\n"), []byte("startxref\n9"), 1),
	} {
		if _, err := addToCatalogue(file, noScaling); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
}

func TestPageIsTheSheet(t *testing.T) {
	for _, side := range [][2]float64{{200, 100}, {100, 200}, {5000, 300}, {297, 210}} {
		file := encoded(t, small(side[0], side[1]))
		boxes := regexp.MustCompile(`/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]`).FindAllSubmatch(file, -1)
		if len(boxes) == 0 {
			t.Fatal("no page box")
		}
		for _, b := range boxes {
			for k := range 2 {
				pt, err := strconv.ParseFloat(string(b[k+1]), 64)
				if err != nil || math.Abs(pt*25.4/72-side[k]) > 0.002 {
					t.Errorf("a side of %v mm is %s pt, %.4f mm", side[k], b[k+1], pt*25.4/72)
				}
			}
		}
	}
}

// streams returns the text of all compressed streams.
func streams(file []byte) string {
	var all strings.Builder
	for _, part := range bytes.Split(file, []byte("stream\n"))[1:] {
		r, err := zlib.NewReader(bytes.NewReader(part))
		if err != nil {
			continue
		}
		b, _ := io.ReadAll(r) // what follows the stream is no part of it
		all.Write(b)
	}
	return all.String()
}

func TestLayersAndLengths(t *testing.T) {
	file := encoded(t, small(200, 100))
	for _, want := range []string{"/OCProperties", "/Type /OCG", "/FontFile2"} {
		if !bytes.Contains(file, []byte(want)) {
			t.Errorf("%s is not in the file", want)
		}
	}
	content := streams(file)
	// 100 mm from (10, 20): 28.35 to 311.81 points, 283.46 = 100·72/25.4.
	if !strings.Contains(content, "28.35 56.69 m\n311.81 56.69 l") {
		t.Errorf("the line of 100 mm is not in the page")
	}
	for _, layer := range []string{"/OC /OC0 BDC", "/OC /OC1 BDC"} {
		if !strings.Contains(content, layer) {
			t.Errorf("%s is not in the page", layer)
		}
	}
}

func TestSameBytesAndFontsUntouched(t *testing.T) {
	first := encoded(t, small(200, 100))
	other := small(200, 100)
	other.Layers[1].Groups[0].Items = append(other.Layers[1].Groups[0].Items, sheet.Text{At: geom.Point{X: 1, Y: 1}, Text: "ÀÉ№ jumps", Size: 5, Font: sheet.Mono, Colour: sheet.Grey(0)})
	encoded(t, other) // a file with other letters in between
	if !bytes.Equal(first, encoded(t, small(200, 100))) {
		t.Error("two runs differ")
	}
}

func TestLongSheetsAreCut(t *testing.T) {
	for _, tc := range []struct {
		width, height float64
		pages         int
	}{{5000, 300, 1}, {5001, 300, 2}, {9950, 300, 2}, {9951, 300, 3}, {12000, 3000, 3}, {6000, 5500, 4}} {
		s := small(tc.width, tc.height)
		pages := Pages(s)
		if len(pages) != tc.pages {
			t.Errorf("%v by %v: %d pages, want %d", tc.width, tc.height, len(pages), tc.pages)
		}
		whole := geom.EmptyRect()
		for i, p := range pages {
			whole = whole.Union(p)
			if p.Width() > MaxSide+1e-9 || p.Height() > MaxSide+1e-9 {
				t.Errorf("%v by %v: page %d is %v by %v", tc.width, tc.height, i+1, p.Width(), p.Height())
			}
			if i > 0 && p.Min.Y == pages[i-1].Min.Y {
				if lap := pages[i-1].Max.X - p.Min.X; math.Abs(lap-Overlap) > 1e-9 {
					t.Errorf("%v by %v: pages %d and %d overlap by %v", tc.width, tc.height, i, i+1, lap)
				}
			}
		}
		if whole.Min.Dist(geom.Point{}) > 1e-6 || whole.Max.Dist(geom.Point{X: tc.width, Y: tc.height}) > 1e-6 {
			t.Errorf("%v by %v: the pages cover %v", tc.width, tc.height, whole)
		}
		if n := bytes.Count(encoded(t, s), []byte("/Type /Page\n")); n != tc.pages {
			t.Errorf("%v by %v: %d pages in the file", tc.width, tc.height, n)
		}
	}
}

// Two pages show the marks of their joint at the same places of the sheet.
func TestMatchMarksMatch(t *testing.T) {
	pages := Pages(small(9000, 300))
	places := func(i int) map[geom.Point]bool {
		out := map[geom.Point]bool{}
		for _, m := range matchMarks(pages, i, words.English().Say) {
			if x, ok := m.(sheet.Text); ok && x.Text == "1-2" {
				out[x.At] = true
			}
		}
		return out
	}
	a, b := places(0), places(1)
	if len(a) != 2 || len(b) != 2 {
		t.Fatalf("%d and %d marks", len(a), len(b))
	}
	for p := range a {
		if !b[p] {
			t.Errorf("the mark at %v is on page 1 only", p)
		}
	}
}

func TestErrorsAreReported(t *testing.T) {
	s := small(200, 100)
	s.Layers[0].Groups[0].Items = append(s.Layers[0].Groups[0].Items, sheet.Shape{
		Paths: []geom.Path{sheet.Polyline(geom.Point{X: 1, Y: 1}, geom.Point{X: math.NaN(), Y: 2})}, Pen: sheet.Pen{Width: 1, Colour: sheet.Grey(0)}})
	if err := Encode(io.Discard, s); err == nil {
		t.Error("a coordinate that is not a number was written")
	}
	full := errors.New("disk full")
	if err := Encode(failing{full}, small(200, 100)); !errors.Is(err, full) {
		t.Errorf("the writer's error came back as %v", err)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// A book has a page a sheet, each of its own size, and fonts that only a later
// sheet uses.
func TestBook(t *testing.T) {
	page := func(w, h float64, f sheet.Font, layer string) *sheet.Sheet {
		return &sheet.Sheet{Width: w, Height: h, Title: "Book", Layers: []sheet.Layer{{ID: "notes", Name: layer, Groups: []sheet.Group{{ID: "notes",
			Items: []sheet.Item{sheet.Text{At: geom.Point{X: 10, Y: 10}, Text: "page", Size: 5, Font: f, Colour: sheet.Grey(0)}}}}}}}
	}
	var b bytes.Buffer
	if err := EncodeBook(&b, []*sheet.Sheet{page(210, 297, sheet.Regular, "Notes"), page(300, 100, sheet.Bold, "Notes"), page(210, 297, sheet.Mono, "More")}); err != nil {
		t.Fatal(err)
	}
	for want, n := range map[string]int{"/Type /Page\n": 3, "/MediaBox [0 0 850.39 283.46]": 1, "/Type /OCG": 2, "/FontFile2": 3, "/PrintScaling /None": 1} {
		if got := bytes.Count(b.Bytes(), []byte(want)); got != n {
			t.Errorf("%q stands %d times in the file, want %d", want, got, n)
		}
	}
}
