package pdf

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
)

// noScaling asks print dialogs not to scale.
const noScaling = "/ViewerPreferences <</PrintScaling /None>>\n"

// pageLabels names the pages in a reader's list of them; "" where none has a name.
func pageLabels(labels []string) string {
	var b strings.Builder
	any := false
	b.WriteString("/PageLabels <</Nums [")
	for i, l := range labels {
		any = any || l != ""
		if l == "" {
			fmt.Fprintf(&b, "%d <</S /D /St %d>> ", i, i+1)
			continue
		}
		fmt.Fprintf(&b, "%d <</P %s>> ", i, textString(l))
	}
	b.WriteString("]>>\n")
	if !any {
		return ""
	}
	return b.String()
}

// textString writes text as the format has it: UTF-16, here in hexadecimal.
func textString(s string) string {
	var b strings.Builder
	b.WriteString("<FEFF")
	for _, u := range utf16.Encode([]rune(s)) {
		fmt.Fprintf(&b, "%04X", u)
	}
	b.WriteString(">")
	return b.String()
}

// addToCatalogue puts entries at the end of the file's catalogue. The PDF library
// has no call for them, and writes the catalogue as the last object, straight
// before the cross-reference table; so they move no other object, and only
// the last startxref must follow.
func addToCatalogue(file []byte, entries string) ([]byte, error) {
	const (
		tail  = ">>\nendobj\nxref\n" // end of the catalogue and start of the table
		start = "\nstartxref\n"
	)
	at := bytes.LastIndex(file, []byte(tail))
	mark := bytes.LastIndex(file, []byte(start))
	if at < 0 || mark < at {
		return nil, fmt.Errorf("pdf: the library's file does not end in a catalogue and a cross-reference table")
	}
	digits, rest, ok := bytes.Cut(file[mark+len(start):], []byte("\n"))
	xref, err := strconv.Atoi(string(digits))
	if !ok || err != nil || xref != at+len(tail)-len("xref\n") {
		return nil, fmt.Errorf("pdf: startxref says %q, the table is at byte %d", digits, at+len(tail)-len("xref\n"))
	}
	var out bytes.Buffer
	out.Write(file[:at])
	out.WriteString(entries)
	out.Write(file[at : mark+len(start)])
	fmt.Fprintf(&out, "%d\n", xref+len(entries))
	out.Write(rest)
	return out.Bytes(), nil
}
