package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func content(t *testing.T, path string) string {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func names(t *testing.T, dir string) string {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return strings.Join(out, " ")
}

// The third file cannot be moved to its name, because its folder is gone: the
// first must stand as before, and the second, which is new, must be gone.
func TestFailedMoveLeavesEverythingAsItWas(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "a"), "old")
	var moves []move
	for _, name := range []string{"a", "b", "gone/c"} {
		temporary, err := writeTemporary(dir, []byte("new"))
		if err != nil {
			t.Fatal(err)
		}
		moves = append(moves, move{temporary: temporary, final: filepath.Join(dir, name)})
	}
	if err := moveAll(moves); err == nil || !strings.Contains(err.Error(), "gone/c") {
		t.Fatalf("error %v", err)
	}
	if got := content(t, filepath.Join(dir, "a")); got != "old" {
		t.Errorf("a holds %q", got)
	}
	if _, err := os.Lstat(filepath.Join(dir, "b")); !os.IsNotExist(err) {
		t.Errorf("b was left behind")
	}
}

// The second file cannot be moved to its name when everything else went well:
// no folder, temporary file or result may be left.
func TestFailedWriteLeavesNothing(t *testing.T) {
	top := t.TempDir()
	files := []file{{name: "good", data: []byte("1")}, {name: "gone/c", data: []byte("2")}}
	if err := writeFiles(filepath.Join(top, "x", "y"), files, true); err == nil {
		t.Fatal("a file was written into a folder that is not there")
	}
	if got := names(t, top); got != "" {
		t.Errorf("%s was left behind", got)
	}
	write(t, filepath.Join(top, "mine"), "kept")
	if err := writeFiles(top, files, true); err == nil {
		t.Fatal("a file was written into a folder that is not there")
	}
	if got := names(t, top); got != "mine" {
		t.Errorf("the folder holds %s", got)
	}
}

func TestOnlyOurOwnFilesAreReplaced(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "f")
	mine := []file{{name: "f", data: []byte("ours: new"), mark: "ours"}}
	for _, tc := range []struct {
		name, old string
		force, ok bool
	}{
		{"ours", "ours: old", false, true},
		{"not ours", "theirs", false, false},
		{"not ours, forced", "theirs", true, true},
		{"empty", "", false, false},
	} {
		write(t, path, tc.old)
		err := writeFiles(dir, mine, tc.force)
		want := tc.old
		if tc.ok {
			want = "ours: new"
		}
		if (err == nil) != tc.ok || content(t, path) != want || names(t, dir) != "f" {
			t.Errorf("%s: error %v, file %q, folder %s", tc.name, err, content(t, path), names(t, dir))
		}
	}
}

// A link is not ours even where it leads to a file of ours: what it leads to
// lies elsewhere.
func TestLinksAreNotOurs(t *testing.T) {
	dir := t.TempDir()
	write(t, filepath.Join(dir, "target"), "ours")
	if err := os.Symlink("target", filepath.Join(dir, "f")); err != nil {
		t.Fatal(err)
	}
	mine := []file{{name: "f", data: []byte("ours: new"), mark: "ours"}}
	if err := writeFiles(dir, mine, false); err == nil {
		t.Error("the link was replaced")
	}
	if err := writeFiles(dir, mine, true); err != nil {
		t.Error(err)
	}
	if got := content(t, filepath.Join(dir, "target")); got != "ours" {
		t.Errorf("the file behind the link holds %q", got)
	}
}
