package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// file is one result, encoded, not yet written. A file on the disk that holds
// mark is taken to be tubewright's own and may be replaced.
type file struct {
	name string
	data []byte
	mark string
}

// writeFiles writes all files into the folder, or none: each goes to a
// temporary file first, and only when all are safe on the disk are they moved
// to their names. If a move fails, those before it are moved back. The folder
// is made if missing, and taken away again on failure. Without force, a file
// that stands there and is not ours is an error.
func writeFiles(dir string, files []file, force bool) (err error) {
	if err := mayReplace(dir, files, force); err != nil {
		return err
	}
	made, err := makeFolder(dir)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			removeFolders(dir, made)
		}
	}()
	var moves []move
	defer func() {
		for _, m := range moves {
			os.Remove(m.temporary) // gone already where the move was made
		}
	}()
	for _, f := range files {
		t, err := writeTemporary(dir, f.data)
		if err != nil {
			return fmt.Errorf("cannot write into %s: %w", dir, err)
		}
		moves = append(moves, move{temporary: t, final: filepath.Join(dir, f.name)})
	}
	return moveAll(moves)
}

// mayReplace refuses to write over what is not ours.
func mayReplace(dir string, files []file, force bool) error {
	for _, f := range files {
		path := filepath.Join(dir, f.name)
		info, err := os.Lstat(path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return fmt.Errorf("cannot write there: %w; choose another folder with --out", err)
		case info.IsDir():
			return fmt.Errorf("%s is a folder; choose another folder with --out", path)
		case !force && !(info.Mode().IsRegular() && holds(path, f.mark)):
			return fmt.Errorf("%s exists and is not tubewright's; choose another folder with --out, or write --force to replace it", path)
		}
	}
	return nil
}

// maxMade is more bytes than any file of a job has.
const maxMade = 1 << 28

// holds reports whether a file holds the mark. A file that cannot be read, or
// is larger than any pattern, is not ours.
func holds(path, mark string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	data, err := readBounded(f, path, maxMade)
	return err == nil && mark != "" && bytes.Contains(data, []byte(mark))
}

// makeFolder makes a folder with all above it, and returns the topmost that
// was missing, "" if none was.
func makeFolder(dir string) (made string, err error) {
	for d := filepath.Clean(dir); ; d = filepath.Dir(d) {
		if _, err := os.Stat(d); !errors.Is(err, fs.ErrNotExist) || d == filepath.Dir(d) {
			break
		}
		made = d
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		removeFolders(dir, made)
		return "", fmt.Errorf("cannot make the folder: %w; choose another with --out", err)
	}
	return made, nil
}

// removeFolders takes away the folders that makeFolder made, from dir up to
// the topmost. A folder in which something stands by now stays.
func removeFolders(dir, made string) {
	for d := filepath.Clean(dir); made != ""; d = filepath.Dir(d) {
		os.Remove(d)
		if d == made || d == filepath.Dir(d) {
			return
		}
	}
}

func writeTemporary(dir string, data []byte) (name string, err error) {
	t, err := os.CreateTemp(dir, ".tubewright-*")
	if err != nil {
		return "", err
	}
	_, err = t.Write(data)
	// A temporary file is private to its owner; results are for the shop.
	err = errors.Join(err, t.Chmod(0o644), t.Sync(), t.Close())
	if err != nil {
		os.Remove(t.Name())
		return "", err
	}
	return t.Name(), nil
}

// move puts a temporary file in its place; kept is where what stood there waits.
type move struct{ temporary, final, kept string }

func moveAll(moves []move) error {
	for i := range moves {
		if err := moves[i].make(); err != nil {
			for k := i - 1; k >= 0; k-- {
				err = errors.Join(err, moves[k].undo())
			}
			return fmt.Errorf("cannot write %s: %w", moves[i].final, err)
		}
	}
	for _, m := range moves {
		if m.kept != "" {
			os.Remove(m.kept) // a left-over copy does no harm
		}
	}
	return nil
}

func (m *move) make() error {
	if _, err := os.Lstat(m.final); err == nil {
		kept := m.temporary + ".kept"
		if err := os.Rename(m.final, kept); err != nil {
			return err
		}
		m.kept = kept
	}
	if err := os.Rename(m.temporary, m.final); err != nil {
		return errors.Join(err, m.undo())
	}
	return nil
}

// undo takes the new file away and puts back what stood there.
func (m *move) undo() error {
	if m.kept != "" {
		return os.Rename(m.kept, m.final)
	}
	if err := os.Remove(m.final); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}
