// Counts says how large the house is, counted the same way each time:
//
//	go run .ci/counts.go
package main

import (
	"bytes"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"log"
	"os"
	"os/exec"
	"path"
	"strings"
)

func main() {
	text, err := exec.Command("git", "ls-files").Output()
	if err != nil {
		log.Fatal(err)
	}
	var names, clauses, markdown, house, tables, tests, examples int
	for _, file := range strings.Fields(string(text)) {
		info, err := os.Lstat(file)
		if err != nil || !info.Mode().IsRegular() { // a link is no page of its own
			continue
		}
		content, err := os.ReadFile(file)
		if err != nil {
			log.Fatal(err)
		}
		lines := bytes.Count(content, []byte("\n"))
		switch dir := path.Dir(file); {
		case strings.HasSuffix(file, ".md"):
			markdown += lines
		case !strings.HasSuffix(file, ".go"):
		case strings.HasSuffix(file, "_test.go"):
			tests += lines
		case strings.HasPrefix(file, "examples/"):
			examples += lines
		case strings.HasPrefix(file, "."):
		default:
			if strings.HasSuffix(file, "_table.go") || bytes.HasPrefix(content, []byte("// Code generated")) {
				tables += lines
			} else {
				house += lines
			}
			if dir == "format/clause" {
				clauses += exported(file)
			} else if !strings.HasPrefix(dir, "conformance") && !strings.Contains(dir, "/internal") {
				names += exported(file)
			}
		}
	}
	fmt.Printf("exported names of the library (the corpus apart): %d, and %d clauses\n", names, clauses)
	fmt.Printf("lines of Markdown: %d\n", markdown)
	fmt.Printf("lines of Go: %d without tests, tables of data and examples; %d of tables, %d of tests, %d of examples\n", house, tables, tests, examples)
}

// exported counts the exported constants, variables, types and functions of a
// file; methods and fields are not counted.
func exported(file string) int {
	f, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
	if err != nil {
		log.Fatal(err)
	}
	n := 0
	count := func(name *ast.Ident) {
		if name.IsExported() {
			n++
		}
	}
	for _, d := range f.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Recv == nil {
				count(d.Name)
			}
		case *ast.GenDecl:
			for _, s := range d.Specs {
				switch s := s.(type) {
				case *ast.TypeSpec:
					count(s.Name)
				case *ast.ValueSpec:
					for _, name := range s.Names {
						count(name)
					}
				}
			}
		}
	}
	return n
}
