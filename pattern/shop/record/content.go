package record

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"image"
	"image/draw"
	"image/png"
	"io"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
)

// content is what Hash.Of says of a hash that was not taken of the bytes of the file.
const content = "content"

// PDF and PNG files hold packed data, and how it is packed is the business of Go's
// library, which may change from one version to the next while the drawing stays the
// same to the last digit. So their hash is taken of what is packed: of a PDF every
// object with its streams unpacked, without the figures that follow from the packed
// lengths (ISO 32000-1, 7.3.8 and 7.5.4); of a PNG its size and its pixels.

// contentOf returns what a file holds, unpacked, and false for a file that is hashed as
// it stands: every other kind, and what is broken.
func contentOf(name string, data []byte) ([]byte, bool) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".pdf":
		return unpackedPDF(data)
	case ".png":
		return pixels(data)
	}
	return nil, false
}

// mostContent bounds what is unpacked of one file, bytes.
const mostContent = 1 << 28

var packedLength = regexp.MustCompile(`/Length (\d+)`)

func unpackedPDF(data []byte) ([]byte, bool) {
	const begin, end = ">>\nstream\n", "\nendstream"
	var out bytes.Buffer
	for {
		at := bytes.Index(data, []byte(begin))
		if at < 0 {
			break
		}
		head := data[:at]
		dict := head[max(0, bytes.LastIndex(head, []byte(" obj\n"))):]
		found := packedLength.FindSubmatch(dict)
		if found == nil {
			return nil, false
		}
		n, err := strconv.Atoi(string(found[1]))
		body := data[at+len(begin):]
		if err != nil || n > len(body) || !bytes.HasPrefix(body[n:], []byte(end)) {
			return nil, false
		}
		out.Write(packedLength.ReplaceAll(head, nil))
		if bytes.Contains(dict, []byte("/FlateDecode")) {
			z, err := zlib.NewReader(bytes.NewReader(body[:n]))
			if err != nil {
				return nil, false
			}
			if _, err := io.Copy(&out, io.LimitReader(z, int64(mostContent-out.Len()))); err != nil {
				return nil, false
			}
		} else {
			out.Write(body[:n])
		}
		data = body[n:]
	}
	// The table of where the objects stand follows from the packed lengths.
	table, trailer, start := bytes.LastIndex(data, []byte("\nxref\n")), bytes.LastIndex(data, []byte("\ntrailer\n")), bytes.LastIndex(data, []byte("\nstartxref\n"))
	if table < 0 || trailer < table || start < trailer {
		return nil, false
	}
	out.Write(data[:table])
	out.Write(data[trailer:start])
	return out.Bytes(), out.Len() < mostContent
}

func pixels(data []byte) ([]byte, bool) {
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil || int64(c.Width)*int64(c.Height) > mostContent/4 {
		return nil, false
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, false
	}
	flat := image.NewNRGBA(image.Rect(0, 0, c.Width, c.Height))
	draw.Draw(flat, flat.Bounds(), img, img.Bounds().Min, draw.Src)
	return append(fmt.Appendf(nil, "%d %d\n", c.Width, c.Height), flat.Pix...), true
}

// HashOf returns the hash of a file.
func HashOf(name string, data []byte) Hash {
	if c, ok := contentOf(name, data); ok {
		return Hash{Name: name, SHA256: sumOf(c), Of: content}
	}
	return Hash{Name: name, SHA256: sumOf(data)}
}

func sumOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// Again returns the hash of a file taken as this one was: a record of a time when all
// files were hashed as they stand is held against them so.
func (h Hash) Again(data []byte) string {
	if c, ok := contentOf(h.Name, data); ok && h.Of == content {
		return sumOf(c)
	}
	return sumOf(data)
}
