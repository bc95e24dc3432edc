package proof

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image/png"
	"io"
)

// Mark stands in every PNG that WritePNG writes, in a text chunk of its own, and in
// no other program's.
const Mark = "tubewright proof"

// WritePNG writes the picture. The same scene gives the same bytes.
func (s *Scene) WritePNG(w io.Writer) error {
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := enc.Encode(&b, s.Draw()); err != nil {
		return err
	}
	head := b.Next(headLength)
	for _, part := range [][]byte{head, textChunk("Software", Mark), b.Bytes()} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

// headLength is the signature of a PNG, 8 bytes, and its header chunk: a length and
// a name of 4 bytes each, 13 bytes of data and a sum of 4 (ISO/IEC 15948, 5.2, 11.2.1).
const headLength = 8 + 4 + 4 + 13 + 4

// textChunk returns a chunk tEXt (ISO/IEC 15948, 11.3.3.2): a keyword, a zero and
// text in Latin-1.
func textChunk(keyword, text string) []byte {
	body := []byte("tEXt" + keyword + "\x00" + text)
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)-4))
	out = append(out, body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(body))
}
