package record_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/record"
)

var carries = regexp.MustCompile(`carry=\S{4}`)

// The records of testdata/second are as they were written when a line did not say
// what came by lateness, nor which penalties partners bring of one pair. They
// are read as they stand, and what is edited in them is seen.
func TestSecondLinesAreRead(t *testing.T) {
	for _, c := range []struct{ file, said, now, edited string }{
		{"late", "phase=over result=Amf", "phase=over result=Alate", "phase=over result=Bmf"},
		{"late", "opens=0:0 serve=- receive=- A=-- B=-- first=- start=- ends=0 due=- phase=over result=Amf",
			"opens=1:0 serve=- receive=- A=-- B=-- first=dA start=- ends=0 due=- phase=over result=Alate", "opens=1:0 serve=- receive=- A=-- B=-- first=- start=- ends=0 due=- phase=over result=Amf"},
		{"warnings-of-one-pair", "tw=2:2 tf=0:0 gf=0:0 wrong=0:0 carry=2-22", "tw=2:2 tf=0:0 gf=0:0 wrong=0:0 carry=2-aa",
			"tw=2:2 tf=0:0 gf=0:0 wrong=0:0 carry=2-2-"},
		{"fouls-of-one-pair", "tf=2:0 gf=0:0 wrong=0:0 carry=44--", "tf=2:0 gf=0:0 wrong=0:0 carry=kk--", "tf=2:0 gf=0:0 wrong=0:0 carry=46--"},
	} {
		t.Run(c.file+", "+c.now, func(t *testing.T) {
			old := readFile(t, filepath.Join("testdata", "second", c.file+".jsonl"))
			require.Contains(t, old, c.said)
			got, err := record.Read(strings.NewReader(old))
			require.NoError(t, err)
			require.Contains(t, whole(t, got.Log), c.now)
			first := carries.ReplaceAllStringFunc(strings.ReplaceAll(version1(old), "L2 game", "L1 game"), strings.NewReplacer("2", "w", "4", "f").Replace)
			_, err = record.Read(strings.NewReader(first))
			require.NoError(t, err, "as the first version stated it")
			_, err = record.Read(strings.NewReader(strings.Replace(version1(old), c.said, c.edited, 1)))
			var fails *record.Error
			require.ErrorAs(t, err, &fails)
			require.Equal(t, record.ErrorCode("disagrees"), fails.Code)

			path := filepath.Join(t.TempDir(), "old.jsonl")
			require.NoError(t, os.WriteFile(path, []byte(old), 0o600))
			_, out, err := record.Resume(path)
			require.NoError(t, err, "and the match goes on")
			require.NoError(t, out.Close())
		})
	}
}
