package program

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
)

// File is a file being written beside the one that it will replace: until
// Commit, nothing of that one is touched.
type File struct {
	*os.File
	name string // "" where the file itself is written, a device for one
}

// Create begins a file that will bear a name. What is no file of its own kind (a
// terminal, a pipe) is written as it is.
func Create(name string) (*File, error) {
	mode := os.FileMode(0o666)
	if there, err := os.Stat(name); err == nil {
		if !there.Mode().IsRegular() {
			file, err := os.OpenFile(name, os.O_WRONLY, 0)
			return &File{file, ""}, err
		}
		mode = there.Mode().Perm()
		if name, err = filepath.EvalSymlinks(name); err != nil { // a link goes on to lead to the file
			return nil, err
		}
	}
	beside := filepath.Join(filepath.Dir(name), fmt.Sprintf(".%s.%d", filepath.Base(name), os.Getpid()))
	file, err := os.OpenFile(beside, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	var at *os.PathError
	if errors.As(err, &at) {
		at.Path = name // the other name was made up here
	}
	return &File{file, name}, err
}

// Commit ends the writing, and puts the file in the place of what bore its name.
func (f *File) Commit() error {
	if f.name == "" {
		return f.Close()
	}
	err := errors.Join(f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), f.name)
	}
	if err != nil {
		_ = os.Remove(f.Name())
	}
	return err
}

// Discard forgets what was written; after Commit it does nothing.
func (f *File) Discard() {
	if f.Close() == nil && f.name != "" {
		_ = os.Remove(f.Name())
	}
}

// WriteFile writes a whole file, or leaves what was there.
func WriteFile(name string, text []byte) error {
	f, err := Create(name)
	if err != nil {
		return err
	}
	defer f.Discard()
	if _, err := f.Write(text); err != nil {
		return err
	}
	return f.Commit()
}
