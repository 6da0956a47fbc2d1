package mutants

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

const switchSource = `package p

const limit = 1 << 3

func f(a, b int) int {
	switch {
	case a > b, a == limit:
		return 1
	case a < b:
		return 2
	}
	return 3
}

func g(a int) int {
	switch {
	case a > 0:
		return 1
	}
	return 0
}
`

// What the profile of Go 1.26 says of switchSource after f(1, 2).
const switchProfile = `mode: set
example.org/m/p/p.go:5.22,6.9 1 1
example.org/m/p/p.go:7.25,8.11 1 0
example.org/m/p/p.go:9.13,10.11 1 1
example.org/m/p/p.go:12.2,12.10 1 0
example.org/m/p/p.go:15.19,16.9 1 0
example.org/m/p/p.go:17.13,18.11 1 0
example.org/m/p/p.go:20.2,20.10 1 0
`

func TestReach(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "p"), 0o777))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "p", "p.go"), []byte(switchSource), 0o666))
	got, err := Reach([]byte(switchProfile), dir, "example.org/m")
	require.NoError(t, err)
	require.Equal(t, switchProfile+
		"example.org/m/p/p.go:3.1,3.21 1 1\n"+ // the constant
		"example.org/m/p/p.go:7.2,7.24 1 1\n"+ // both cases of f, none of g, which nobody called
		"example.org/m/p/p.go:9.2,9.12 1 1\n", string(got))
}

func TestReachRefuses(t *testing.T) {
	dir := t.TempDir()
	for name, profile := range map[string]string{
		"a line that is none": "mode: set\nexample.org/m/p/p.go:nonsense\n",
		"a file that is gone": "mode: set\nexample.org/m/p/p.go:1.1,2.2 1 1\n",
	} {
		_, err := Reach([]byte(profile), dir, "example.org/m")
		require.Error(t, err, name)
	}
}
