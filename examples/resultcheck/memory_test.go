package main

import (
	"fmt"
	"io"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/examples/program"
)

// stream makes rows for as long as they are read, up to a number of bytes, and
// measures the heap in use on the way.
type stream struct {
	row    func(i int) string
	left   int
	rows   int
	ready  string
	every  int // bytes between measurements
	next   int
	peak   uint64
	passed int
}

func (s *stream) Read(p []byte) (int, error) {
	if s.ready == "" {
		if s.left <= 0 {
			return 0, io.EOF
		}
		s.ready = s.row(s.rows)
		s.rows++
		s.left -= len(s.ready)
	}
	n := copy(p, s.ready)
	s.ready = s.ready[n:]
	if s.passed += n; s.passed >= s.next {
		s.next += s.every
		s.peak = max(s.peak, heap())
	}
	return n, nil
}

// heap returns the bytes of the heap that are in use and reachable.
func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// Streams of 64 and 32 MB, of the kinds that would grow a careless program:
// the heap in use stays within a bound that has nothing to do with their size.
func TestMemoryStaysBounded(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 80 MB")
	}
	// What is kept is as much after this as after four times as much, which
	// .ci/deep reads.
	much, enough := 16<<20, 8<<20
	if os.Getenv("EVENCOURT_DEEP") != "" {
		much, enough = 64<<20, 32<<20
	}
	tests := []struct {
		name   string
		size   int
		header string
		row    func(i int) string
		bound  uint64 // MB
	}{
		{"a season after the other", much, "match,date,round,event,format,a1,a1_name,b1,b1_name,games,winner\n", func(i int) string {
			return fmt.Sprintf("m%d,2026-09-%02d,%d,autumn,sideout-singles-11-of3,p%d,Imani Okafor,p%d,Lars Nyberg,11-%d 11-%d,A\n", i, 1+i%28, i, i%97, 100+i%89, i%10, i%7)
		}, 48},
		{"every name new", enough, "match,a1,a1_name,b1,b1_name,games,format\n", func(i int) string {
			return fmt.Sprintf("m%d,p%d,Mei-Lin Castellanos the %dth,q%d,Rafael Oyelaran of court %d,11-%d,sideout-singles-11\n", i, i, i*7919, i, i*104729, i%10)
		}, 64},
		{"one name under ever new ids, every row with an error", enough, "match,a1,a1_name,b1,games,format\n", func(i int) string {
			return fmt.Sprintf("m%d,p%d,Imani Okafor,q%d,11-10,sideout-singles-11\n", i, i, i)
		}, 48},
		{"cells of thirty kilobytes", 32 << 20, "match,event,round,a1,a1_name,b1,games,format\n", func(i int) string {
			long := strings.Repeat(string(rune('a'+i%26)), 6000)
			return fmt.Sprintf("m%d%s,e%s,r%s,p%d%s,n%d%s,q,11-2,f%d\n", i, long, long, long, i, long, i, long, i)
		}, 48},
		{"quotes that nobody closes", enough, "match,games,format\n", func(i int) string {
			if i%60 == 0 {
				return "\"" + strings.Repeat("x", 1000) + "\n"
			}
			return fmt.Sprintf("m%d,11-%d,sideout-singles-11\n", i, i%10)
		}, 48},
		{"JSON Lines, every second of them wrong", enough, "", func(i int) string {
			return fmt.Sprintf(`{"match":"m%d","format":"sideout-singles-11","sides":[{"players":["p%d"]},{"players":["q%d"]}],"games":[[11,%d]]}`+"\n", i, i, i, 5+i%2*5)
		}, 48},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			before := heap()
			began := time.Now()
			in := &stream{row: test.row, left: test.size, every: test.size / 8, next: test.size / 8}
			status := run([]string{"-"}, io.MultiReader(strings.NewReader(test.header), in), io.Discard, io.Discard)
			require.Less(t, status, program.Failed)
			require.GreaterOrEqual(t, in.passed, test.size)
			grown := (max(in.peak, before) - before) >> 20
			t.Logf("%d MB, %d rows in %v: heap in use grew by at most %d MB", in.passed>>20, in.rows, time.Since(began).Round(time.Millisecond), grown)
			require.Less(t, grown, test.bound)
		})
	}
}
