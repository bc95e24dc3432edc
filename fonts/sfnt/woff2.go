package sfnt

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"

	"github.com/andybalholm/brotli"
	"github.com/tdewolff/font"
)

// maxUnpacked bounds the tables of a WOFF2 file once decompressed, in bytes;
// tdewolff/font has the same bound on the size the file states.
const maxUnpacked = 30 << 20

// shortLocaReach is the largest glyf table that loca entries of two bytes can
// address: 65,535 times 2 bytes.
const shortLocaReach = 131_070

// unpackWOFF2 returns the TTF or OTF inside a WOFF2 file.
func unpackWOFF2(data []byte) ([]byte, error) {
	if err := checkWOFF2(data); err != nil {
		return nil, err
	}
	out, err := font.ParseWOFF2(data)
	if err != nil {
		return nil, damaged("WOFF2: %w", err)
	}
	return out, checkUnpacked(out)
}

// checkUnpacked refuses what tdewolff/font gets wrong without an error: its
// glyf table may grow past what a loca table of two bytes an entry can
// address, and the offsets then wrap around.
func checkUnpacked(data []byte) error {
	dir, err := readDirectory(data)
	if err != nil {
		return damaged("WOFF2: %w", err)
	}
	head, glyf := dir.find("head"), dir.find("glyf")
	if len(head) >= 54 && binary.BigEndian.Uint16(head[50:]) == 0 && len(glyf) > shortLocaReach {
		return fmt.Errorf("WOFF2: the outlines unpack to %d bytes, more than the font's short index of %d reaches; convert the file to TTF or OTF and use that",
			len(glyf), shortLocaReach)
	}
	return nil
}

// checkWOFF2 decompresses the tables once, throwing them away, to find out
// that they are no longer than stated: tdewolff/font would keep all of a
// stream that never ends. See the WOFF2 specification, section 4.
func checkWOFF2(data []byte) error {
	const header = 48
	if len(data) < header {
		return damaged("WOFF2: the file ends inside the header")
	}
	if string(data[4:8]) == sigCollection {
		return errors.New("WOFF2: a collection is not read: convert one of its fonts to TTF or OTF and use that")
	}
	count := int(binary.BigEndian.Uint16(data[12:]))
	compressed := uint64(binary.BigEndian.Uint32(data[20:]))
	rest := data[header:]
	for range count {
		n, err := entryLength(rest)
		if err != nil {
			return err
		}
		rest = rest[n:]
	}
	if compressed > uint64(len(rest)) {
		return damaged("WOFF2: %d bytes of tables stated, %d left in the file", compressed, len(rest))
	}
	r := io.LimitReader(brotli.NewReader(bytes.NewReader(rest[:compressed])), maxUnpacked+1)
	n, err := io.Copy(io.Discard, r)
	if err != nil {
		return damaged("WOFF2: %w", err)
	}
	if n > maxUnpacked {
		return fmt.Errorf("WOFF2: the tables unpack to more than %d bytes; convert the file to TTF or OTF and use that", maxUnpacked)
	}
	return nil
}

// entryLength returns the length of the table directory entry at the start of
// data: flags, a tag if it is none of the known ones, one or two numbers.
func entryLength(data []byte) (int, error) {
	const (
		ownTag   = 63
		glyf     = 10
		loca     = 11
		hmtx     = 3
		untagged = 4
	)
	if len(data) == 0 {
		return 0, damaged("WOFF2: the file ends inside the table directory")
	}
	index, version := data[0]&0x3F, data[0]>>6
	n := 1
	if index == ownTag {
		n += untagged
	}
	numbers := 1
	if (index == glyf || index == loca) && version == 0 || index == hmtx && version == 1 {
		numbers = 2
	}
	for range numbers {
		for k := 0; ; k++ {
			if n >= len(data) || k == 5 {
				return 0, damaged("WOFF2: the file ends inside the table directory")
			}
			n++
			if data[n-1]&0x80 == 0 {
				break
			}
		}
	}
	return n, nil
}
