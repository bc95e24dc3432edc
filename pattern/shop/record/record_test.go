package record

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"tubewright/pattern/shop/table"
)

func sample() Record {
	return Record{
		Format: Format, Program: "v1", Job: "text = \"RYE & <SALT>\"\n", JobHash: HashOf("", []byte("text = \"RYE & <SALT>\"\n")).SHA256,
		Font:   Font{Name: "futural", SHA256: "ab"},
		Tables: TablesOf(table.Embedded()),
		Files:  []Hash{HashOf("result.json", []byte("{}"))},
		Units:  []Unit{{"U1", []Hash{HashOf("U1.svg", []byte("<svg/>"))}}, {"U2", []Hash{HashOf("U2.svg", []byte("<g/>"))}}},
	}
}

func written(t *testing.T, r Record) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := r.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestReadsWhatItWrote(t *testing.T) {
	data := written(t, sample())
	got, err := Read(data)
	if err != nil || !reflect.DeepEqual(got, sample()) {
		t.Fatalf("%v", err)
	}
	if !bytes.Equal(written(t, got), data) {
		t.Error("written again, it differs")
	}
	set, err := got.Restore()
	if err != nil {
		t.Fatal(err)
	}
	for _, tab := range table.Embedded().Tables() {
		if set.Table(tab.Name).SHA256() != tab.SHA256() {
			t.Errorf("table %s was not restored", tab.Name)
		}
	}
}

// The hash of the three letters abc is published with the algorithm (FIPS 180-4,
// example B.1).
func TestHash(t *testing.T) {
	if got := HashOf("x", []byte("abc")).SHA256; got != "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad" {
		t.Error(got)
	}
}

func TestChangedRecordsAreRefused(t *testing.T) {
	data := string(written(t, sample()))
	for _, tc := range []struct{ name, data, want string }{
		{"a changed price", strings.Replace(data, "hour,60,money", "hour,61,money", 1), "the table prices in the record was changed"},
		{"a changed job", strings.Replace(data, "RYE &", "RYE +", 1), "the job in the record was changed since it was written"},
		{"no hash of the job", strings.Replace(data, `"job_sha256"`, `"job_sha512"`, 1), `unknown field "job_sha512"`},
		{"another format", strings.Replace(data, Format, "tubewright.record/9", 1), `format "tubewright.record/9"`},
		{"cut short", data[:len(data)/2], "this is no record"},
		{"unknown field", strings.Replace(data, `"program"`, `"programme"`, 1), `unknown field "programme"`},
		{"not text", "\xff", "not UTF-8"},
	} {
		if _, err := Read([]byte(tc.data)); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: %v", tc.name, err)
		}
	}
}

func TestMismatchIsSaid(t *testing.T) {
	want, ok := sample().UnitFiles("U2")
	if !ok {
		t.Fatal("no U2")
	}
	if got := Compare(want, []File{{"U2.svg", []byte("<g/>")}, {"U2.pdf", nil}}); len(got) != 0 {
		t.Errorf("the same is told as %v", got)
	}
	got := Compare(want, []File{{"U2.svg", []byte("<h/>")}})
	if len(got) != 1 || !strings.Contains(got[0].String(), "U2.svg is not what it was") {
		t.Errorf("%v", got)
	}
	if got := Compare(want, nil); len(got) != 1 || !strings.Contains(got[0].String(), "was not made") {
		t.Errorf("%v", got)
	}
	if _, ok := sample().UnitFiles("U3"); ok {
		t.Error("U3 is not in the record")
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(`{"format":"tubewright.record/1","program":"v","job":"","job_sha256":"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855","font":{"name":"n","sha256":""},"tables":[],"files":[],"units":[]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := Read(data)
		if err != nil {
			return
		}
		var b bytes.Buffer
		if err := r.Write(&b); err != nil {
			t.Fatal(err)
		}
		again, err := Read(b.Bytes())
		if err != nil || !reflect.DeepEqual(again, r) {
			t.Errorf("read, written and read it differs: %v", err)
		}
	})
}
