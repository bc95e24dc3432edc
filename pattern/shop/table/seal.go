package table

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
)

// sealMark begins the last line of a file that WriteFile wrote: a comment, with the hash
// of all lines before it.
const sealMark = "# as tubewright wrote it, sha256 "

// WriteFile writes the table as WriteCSV does, with a last line by which IsUntouched
// knows it again. It returns the first error of w.
func (t Table) WriteFile(w io.Writer) error {
	var b bytes.Buffer
	if err := t.WriteCSV(&b); err != nil {
		return err
	}
	b.WriteString(sealOf(b.Bytes()))
	_, err := w.Write(b.Bytes())
	return err
}

func sealOf(data []byte) string {
	sum := sha256.Sum256(data)
	return sealMark + hex.EncodeToString(sum[:]) + "\n"
}

// IsUntouched reports whether data is what WriteFile wrote, of this table or another,
// by this version or another, and was not changed since.
func IsUntouched(data []byte) bool {
	at := bytes.LastIndex(data, []byte(sealMark))
	return at > 0 && string(data[at:]) == sealOf(data[:at])
}
