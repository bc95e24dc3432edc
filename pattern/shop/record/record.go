// Package record keeps what a job was made from, so that one broken unit can be
// made again years later and be the same glass.
//
// A Record is one JSON file in the job's folder: the whole job file with every
// setting, the reference tables as they were, the hash of the font, the version
// of the program, and the hashes of everything that was written, unit by unit.
// Made again from its record, a unit gives the same bytes; Compare says where it
// does not. A PDF or PNG that was only packed in another way, by another version of
// Go's library, is the same.
package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"tubewright/pattern/shop/table"
)

// Format is the name and version of record.json.
const Format = "tubewright.record/1"

// Record is the content of record.json.
type Record struct {
	Format  string `json:"format"`
	Program string `json:"program"` // version that made the job
	Job     string `json:"job"`     // the job file, complete
	JobHash string `json:"job_sha256"`
	Font    Font   `json:"font"`
	Tables  []Text `json:"tables"` // each reference table as CSV
	Files   []Hash `json:"files"`  // of the job
	Units   []Unit `json:"units"`
}

// Font is the face: built in, or the copy of its file in the job's folder.
type Font struct {
	Name   string `json:"name"`
	File   string `json:"file,omitempty"` // "" where built in
	SHA256 string `json:"sha256"`
}

// Text is a file kept whole.
type Text struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Text   string `json:"text"`
}

// Hash is a file by its SHA-256, in hexadecimal: of its bytes, or of what it holds
// where that is packed (content.go).
type Hash struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
	Of     string `json:"of,omitempty"` // "content", or "" for its bytes
}

// File is a file that was made.
type File struct {
	Name string
	Data []byte
}

// Unit is what was made of one unit alone.
type Unit struct {
	ID    string `json:"id"`
	Files []Hash `json:"files"`
}

// TablesOf returns the tables of a set for a record.
func TablesOf(set table.Set) []Text {
	var out []Text
	for _, t := range set.Tables() {
		var b bytes.Buffer
		if err := t.WriteCSV(&b); err != nil {
			panic(err) // a bytes.Buffer takes everything
		}
		out = append(out, Text{t.Name, HashOf(t.Name, b.Bytes()).SHA256, b.String()})
	}
	return out
}

// Write writes the record. The same record always gives the same bytes.
func (r Record) Write(w io.Writer) error {
	r.Format, r.JobHash = Format, HashOf("", []byte(r.Job)).SHA256
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", " ")
	return enc.Encode(r)
}

// MaxBytes bounds the records that Read takes: a thousand units take less than 1 MB.
const MaxBytes = 16 << 20

// Read reads a record and proves it whole: a job or a table whose text does not have
// its hash was changed since, and is told.
func Read(data []byte) (Record, error) {
	if len(data) > MaxBytes {
		return Record{}, fmt.Errorf("the record has %d bytes, at most %d are read", len(data), MaxBytes)
	}
	if !utf8.Valid(data) {
		return Record{}, fmt.Errorf("the record is not UTF-8 text")
	}
	var r Record
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&r); err != nil {
		return Record{}, fmt.Errorf("this is no record: %s", strings.TrimPrefix(err.Error(), "json: "))
	}
	if r.Format != Format {
		return Record{}, fmt.Errorf("the record is of format %q, this program reads %q", r.Format, Format)
	}
	if got := HashOf("", []byte(r.Job)).SHA256; got != r.JobHash {
		return Record{}, fmt.Errorf("the job in the record was changed since it was written: its hash is %.12s…, not %.12s…; to make another job, make it from a job file", got, r.JobHash)
	}
	for _, t := range r.Tables {
		if got := HashOf(t.Name, []byte(t.Text)).SHA256; got != t.SHA256 {
			return Record{}, fmt.Errorf("the table %s in the record was changed since it was written: its hash is %.12s…, not %.12s…", t.Name, got, t.SHA256)
		}
	}
	return r, nil
}

// Restore returns the tables as they were when the record was made.
func (r Record) Restore() (table.Set, error) {
	texts := map[string][]byte{}
	for _, t := range r.Tables {
		texts[t.Name] = []byte(t.Text)
	}
	return table.Restore(texts)
}

// UnitFiles returns the hashes of a unit, and false where the record has no such unit.
func (r Record) UnitFiles(id string) ([]Hash, bool) {
	for _, u := range r.Units {
		if u.ID == id {
			return u.Files, true
		}
	}
	return nil, false
}

// Mismatch is a file that is not what the record says.
type Mismatch struct{ Name, Want, Got string } // Got "" where it was not made

func (m Mismatch) String() string {
	if m.Got == "" {
		return fmt.Sprintf("%s is in the record and was not made", m.Name)
	}
	return fmt.Sprintf("%s is not what it was: its hash is %.12s…, the record has %.12s…", m.Name, m.Got, m.Want)
}

// Compare lists the files of want that were not made, or are made otherwise.
func Compare(want []Hash, made []File) []Mismatch {
	var out []Mismatch
	for _, w := range want {
		m := Mismatch{Name: w.Name, Want: w.SHA256}
		for _, f := range made {
			if f.Name == w.Name {
				m.Got = w.Again(f.Data)
			}
		}
		if m.Got != m.Want {
			out = append(out, m)
		}
	}
	return out
}
