// Package examples holds no code; each folder is a program or what programs share.
package examples

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write LICENCES.txt anew")

const preface = `The programs in this folder, once built, contain the modules below besides the
module they belong to (Apache-2.0, LICENSE at the top of the repository) and the
standard library of Go, whose licence is that of golang.org/x/sys. Whoever hands
a built program on hands this file on with it. Of the two licences that
github.com/golang/freetype offers the FreeType License is taken.

Written by: go test ./examples -run Licences -update
`

// What a built program contains, its licences stand in the file.
func TestLicencesAreCurrent(t *testing.T) {
	var modules []string
	for _, system := range []string{"linux/amd64", "windows/amd64", "darwin/arm64", "js/wasm"} {
		list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if .Version}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}", "./...")
		os, arch, _ := strings.Cut(system, "/")
		list.Env = append(list.Environ(), "GOOS="+os, "GOARCH="+arch, "CGO_ENABLED=0")
		text, err := list.Output()
		require.NoError(t, err)
		modules = append(modules, strings.Split(strings.TrimSpace(string(text)), "\n")...)
	}
	slices.Sort(modules)
	modules = slices.DeleteFunc(slices.Compact(modules), func(line string) bool { return line == "" })
	var want bytes.Buffer
	want.WriteString(preface)
	for _, line := range modules {
		words := strings.SplitN(line, " ", 3)
		fmt.Fprintf(&want, "\n%s\n%s %s\n", strings.Repeat("=", 80), words[0], words[1])
		var files []string
		for _, pattern := range []string{"LICENSE*", "PATENTS", "NOTICE*", "licenses/ftl*"} {
			found, err := filepath.Glob(filepath.Join(words[2], pattern))
			require.NoError(t, err)
			files = append(files, found...)
		}
		require.NotEmpty(t, files, "%s says nothing of a licence", words[0])
		for _, name := range files {
			text, err := os.ReadFile(name)
			require.NoError(t, err)
			fmt.Fprintf(&want, "\n%s\n", strings.ReplaceAll(strings.TrimSpace(string(text)), "\r\n", "\n"))
		}
	}
	const file = "LICENCES.txt"
	if *update {
		require.NoError(t, os.WriteFile(file, want.Bytes(), 0o644))
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, want.String(), string(text), "go test ./examples -run Licences -update writes it anew")
}
