package publish

import (
	"archive/tar"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"github.com/evencourt/evencourt/conformance"
)

// Archive writes what package.json lists as a tar file packed with gzip, all of
// it in one folder named after the version: the corpus for those who vendor it
// without a checkout. The same files give the same bytes, whoever makes it and
// whenever, with one version of Go.
func Archive(folder string, to io.Writer) error {
	names, err := packed(folder)
	if err != nil {
		return err
	}
	zip := gzip.NewWriter(to)
	out := tar.NewWriter(zip)
	for _, name := range names {
		text, err := os.ReadFile(filepath.Join(folder, filepath.FromSlash(name)))
		if err != nil {
			return err
		}
		head := tar.Header{Name: ArchiveName() + "/" + name, Size: int64(len(text)), Mode: 0o644, Format: tar.FormatUSTAR}
		if err := out.WriteHeader(&head); err != nil {
			return err
		}
		if _, err := out.Write(text); err != nil {
			return err
		}
	}
	if err := out.Close(); err != nil {
		return err
	}
	return zip.Close()
}

// ArchiveName is the folder within the archive, and its name without suffix.
func ArchiveName() string { return "evencourt-corpus-" + conformance.Version() }

// packed lists the files of the data-only package: package.json itself, and what
// it lists, folders with all that is in them.
func packed(folder string) ([]string, error) {
	text, err := os.ReadFile(filepath.Join(folder, "package.json"))
	if err != nil {
		return nil, err
	}
	var listed struct{ Files []string }
	if err := json.Unmarshal(text, &listed); err != nil {
		return nil, fmt.Errorf("package.json: %w", err)
	}
	names := []string{"package.json"}
	for _, pattern := range listed.Files {
		found, err := filepath.Glob(filepath.Join(folder, filepath.FromSlash(pattern)))
		if err == nil && found == nil {
			err = fmt.Errorf("package.json lists %s, and there is none", pattern)
		}
		if err != nil {
			return nil, err
		}
		for _, at := range found {
			err := filepath.WalkDir(at, func(path string, entry os.DirEntry, err error) error {
				if err != nil || entry.IsDir() {
					return err
				}
				name, err := filepath.Rel(folder, path)
				names = append(names, filepath.ToSlash(name))
				return err
			})
			if err != nil {
				return nil, err
			}
		}
	}
	slices.Sort(names)
	return slices.Compact(names), nil
}
