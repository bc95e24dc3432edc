package sfnt

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// MaxFile is the size of the largest font file that is read, in bytes. The
// largest fonts in wide use, of Chinese and Japanese, stay under 30 MB.
const MaxFile = 64 << 20

// Signatures at the start of a file.
const (
	sigTrueType   = "\x00\x01\x00\x00"
	sigTrueTypeMP = "true"
	sigCFF        = "OTTO"
	sigCollection = "ttcf"
	sigWOFF       = "wOFF"
	sigWOFF2      = "wOF2"
)

// table is the place of one table in the file.
type table struct {
	tag  string
	data []byte
}

// directory is the table directory of one font.
type directory []table

// find returns the first table with the tag, or nil.
func (d directory) find(tag string) []byte {
	for _, t := range d {
		if t.tag == tag {
			return t.data
		}
	}
	return nil
}

// readDirectory returns the tables of the first font in an SFNT file, having
// checked that each lies inside the file and that together they are no longer
// than the file: the font libraries allocate by the lengths stated there.
func readDirectory(data []byte) (directory, error) {
	offset := 0
	if len(data) >= 16 && string(data[:4]) == sigCollection {
		n, first := binary.BigEndian.Uint32(data[8:]), binary.BigEndian.Uint32(data[12:])
		const maxFonts = 256 // as in x/image/font/sfnt
		if n == 0 || n > maxFonts || uint64(first) > uint64(len(data)) {
			return nil, fmt.Errorf("collection of %d fonts, the first at byte %d of %d", n, first, len(data))
		}
		offset = int(first)
	}
	const header, entry = 12, 16
	if len(data)-offset < header {
		return nil, errors.New("the file ends inside the table directory")
	}
	count := int(binary.BigEndian.Uint16(data[offset+4:]))
	if len(data)-offset < header+count*entry {
		return nil, errors.New("the file ends inside the table directory")
	}
	var dir directory
	total := uint64(0)
	for i := range count {
		e := data[offset+header+i*entry:]
		from, length := uint64(binary.BigEndian.Uint32(e[8:])), uint64(binary.BigEndian.Uint32(e[12:]))
		if from+length > uint64(len(data)) {
			return nil, fmt.Errorf("table %q runs to byte %d, past the end of the file at %d", e[:4], from+length, len(data))
		}
		if total += length; total > uint64(len(data)) {
			return nil, errors.New("the tables overlap")
		}
		dir = append(dir, table{string(e[:4]), data[from : from+length]})
	}
	return dir, nil
}
