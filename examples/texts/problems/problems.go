// Package problems puts errors of files, records and logs into words of the
// programs' catalog. It is apart from the catalog because a browser build speaks
// from that, and has neither files nor records to read.
package problems

import (
	"errors"
	"io/fs"
	"syscall"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
	"github.com/evencourt/evencourt/rally/words"
)

// Of puts an error into words: a problem, what is wrong with a file or a record,
// why a log takes no entry. Of a record what the library adds in detail stands as
// it is in brackets: it quotes the file, for whoever mends it. What no code is
// known for stands as it is.
func Of(err error) words.Text {
	var (
		problem *texts.Problem
		broken  *record.Error
		entry   *rally.EntryError
		setup   *rally.SetupError
		file    *fs.PathError
	)
	switch {
	case errors.As(err, &problem):
		return problem.Text
	case errors.As(err, &broken) && !errors.As(broken.Cause, &file):
		return ofRecord(broken)
	case errors.As(err, &entry):
		return words.Correction(entry)
	case errors.As(err, &setup):
		return words.New("wrong.setup", words.Name("field", setup.Field), words.Name("reason", setup.Reason))
	case errors.As(err, &file):
		return ofFile(file)
	}
	return words.New("wrong.said", words.Name("reason", err.Error()))
}

func ofFile(e *fs.PathError) words.Text {
	file := words.Name("file", e.Path)
	for _, known := range []struct {
		is   error
		code words.Code
	}{
		{fs.ErrNotExist, "wrong.file-missing"}, {fs.ErrExist, "wrong.file-there"}, {fs.ErrPermission, "wrong.file-forbidden"},
		{syscall.EISDIR, "wrong.file-folder"}, {syscall.ENOTDIR, "wrong.file-missing"}, {syscall.ENOSPC, "wrong.file-full"},
	} {
		if errors.Is(e.Err, known.is) {
			return words.New(known.code, file)
		}
	}
	return words.New("wrong.file", file, words.Name("reason", e.Err.Error()))
}

func ofRecord(e *record.Error) words.Text {
	what := words.Code("broken." + string(e.Code))
	if !hasCode(what) {
		return words.New("wrong.said", words.Name("reason", e.Error()))
	}
	if e.Code == "other-writer" {
		return words.New(what) // which says all
	}
	args := []words.Arg{words.Word("what", what), words.Name("detail", e.Reason)}
	code := words.Code("wrong.record")
	if e.Line > 0 {
		code, args = code+"-line", append(args, words.Count("line", e.Line))
	}
	if e.Field != "" {
		code, args = code+"-field", append(args, words.Name("field", e.Field))
	}
	return words.New(code, args...)
}

// hasCode reports whether the programs have a code.
func hasCode(c words.Code) bool {
	for _, e := range texts.Codes() {
		if e.Code == c {
			return true
		}
	}
	return false
}
