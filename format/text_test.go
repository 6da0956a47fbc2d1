package format_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/format"
)

func TestNatural(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int
		ok   bool
	}{
		{"0", 0, true}, {"7", 7, true}, {"255", 255, true}, {"256", 0, false}, {"99999999999999999999", 0, false},
		{"", 0, false}, {"00", 0, false}, {"07", 0, false}, {"-1", 0, false}, {"1x", 0, false}, {"1.0", 0, false}, {" 1", 0, false},
	} {
		t.Run(c.text, func(t *testing.T) {
			n, ok := format.Natural(c.text, 255)
			require.Equal(t, c.ok, ok)
			require.Equal(t, c.n, n)
		})
	}
}
