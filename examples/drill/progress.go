package main

import (
	"errors"
	"os"
	"path/filepath"
	"time"

	"github.com/evencourt/evencourt/examples/drill/exercise"
	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/words"
)

// progress is what a trainee has been asked so far, in its file.
type progress struct {
	file  string
	cards exercise.Progress
}

// today tells the day.
var today = time.Now

// openProgress reads a file of progress; one that is not there is empty.
func openProgress(file string) (*progress, error) {
	p := &progress{file: file, cards: exercise.Progress{}}
	data, err := os.ReadFile(file)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return p, nil
	case err != nil:
		return nil, err
	}
	if p.cards, err = exercise.ParseProgress(string(data)); err != nil {
		line := 0
		if bad := (*exercise.ProgressError)(nil); errors.As(err, &bad) {
			line = bad.Line
		}
		return nil, texts.Wrong("drill.bad-progress", words.Name("file", file), words.Count("line", line))
	}
	return p, nil
}

// progressFile is where progress is kept if nothing else is said.
func progressFile() string {
	dir, err := os.UserConfigDir()
	if err != nil {
		return ""
	}
	return filepath.Join(dir, "evencourt", "practice.txt")
}

func (p *progress) save() error {
	if err := os.MkdirAll(filepath.Dir(p.file), 0o700); err != nil {
		return err
	}
	return program.WriteFile(p.file, []byte(p.cards.String()))
}
