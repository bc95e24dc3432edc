package pdf

import (
	"bytes"
	"fmt"
	"strconv"
)

// addViewerPreferences asks print dialogs not to scale. The PDF library has no
// call for it, and writes the catalogue as the last object, straight before the
// cross-reference table; so an entry put at its end moves no other object, and
// only the last startxref must follow.
func addViewerPreferences(file []byte) ([]byte, error) {
	const (
		entry = "/ViewerPreferences <</PrintScaling /None>>\n"
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
	out.WriteString(entry)
	out.Write(file[at : mark+len(start)])
	fmt.Fprintf(&out, "%d\n", xref+len(entry))
	out.Write(rest)
	return out.Bytes(), nil
}
