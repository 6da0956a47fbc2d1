// Command publish writes the generated files of folder conformance: clauses and
// formats as JSON, which cases rest on which clause, the names in the schema of
// case files, and the manifest. Run it in the root of the repository.
//
//	go run ./conformance/cmd/publish
//	go run ./conformance/cmd/publish -archive FOLDER
//
// With -archive it then packs the corpus into FOLDER as one file for a release,
// without code: evencourt-corpus-VERSION.tar.gz.
package main

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"

	"github.com/evencourt/evencourt/conformance/internal/publish"
)

func main() {
	archive := flag.String("archive", "", "pack the corpus for a release, into this `folder`")
	flag.Parse()
	if err := run("conformance", *archive); err != nil {
		fmt.Fprintln(os.Stderr, "publish:", err)
		os.Exit(2)
	}
}

func run(folder, archive string) error {
	files, err := publish.Files(folder)
	if err != nil {
		return err
	}
	for _, f := range files {
		if err := os.WriteFile(filepath.Join(folder, filepath.FromSlash(f.Name)), f.Content, 0o666); err != nil {
			return err
		}
	}
	if archive == "" {
		return nil
	}
	var packed bytes.Buffer
	if err := publish.Archive(folder, &packed); err != nil {
		return err
	}
	if err := os.MkdirAll(archive, 0o777); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(archive, publish.ArchiveName()+".tar.gz"), packed.Bytes(), 0o666)
}
