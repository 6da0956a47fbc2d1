// Command again reads a record, plays its entries anew with the library and
// writes the library's own record of them: what the page's is compared with.
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
)

func main() {
	if err := again(); err != nil {
		fmt.Fprintln(os.Stderr, "again:", err)
		os.Exit(2)
	}
}

func again() error {
	read := record.Read
	if len(os.Args) > 1 && os.Args[1] == "-recover" { // what can be read of a damaged one
		read = func(src io.Reader) (*record.Record, error) {
			r, _, err := record.Recover(src)
			return r, err
		}
	}
	r, err := read(os.Stdin)
	if err != nil {
		return err
	}
	rules, start := r.Log.Initial()
	log := rally.NewLog(rules, start)
	for n := 1; n <= r.Log.Len(); n++ {
		if _, err := log.Do(r.Log.Entry(n)); err != nil {
			return err
		}
		if ms, ok := r.Log.Time(n); ok {
			log.Stamp(ms)
		}
	}
	w, err := record.NewWriter(os.Stdout, r.Setup, log)
	if err != nil {
		return err
	}
	return w.Append()
}
