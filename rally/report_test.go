package rally_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/conformance/reference"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
)

// What is reported of matches that end in every way there is, by the slow
// model's own table of conventions.
func TestReportsAgreeWithSlowModel(t *testing.T) {
	ends := words("gfA gfB gfA gfB mfA mfB retA retB wdA wdB dmf abandon sheet sheet lateA:600 lateB:900 tfA tfB twA twB twA twB")
	r := rand.New(rand.NewPCG(9, 7))
	ended := map[rally.Cause]int{}
	for range steps(3_000) {
		var ids []string
		for _, shape := range format.Shapes() {
			for _, e := range format.EditionsOf(shape) {
				if reference.Taught(e) {
					ids = append(ids, shape+"@"+e.String())
				}
			}
		}
		id := ids[r.IntN(len(ids))]
		log := begin(t, id)
		f, err := format.Parse(id)
		require.NoError(t, err)
		m, err := reference.New(f, "A", [2]int{1, 1})
		require.NoError(t, err)
		slow := reference.NewLog(m)
		skew, often := 1+r.IntN(9), 8+r.IntN(60)
		var path []string
		for range 120 {
			event := "B"
			if r.IntN(10) < skew {
				event = "A"
			}
			if r.IntN(often) == 0 {
				event = ends[r.IntN(len(ends))]
			}
			_, fault := log.Enter(event)
			if _, refused := slow.Do(event); (refused == "") != (fault == nil) {
				break // how events are answered is compared elsewhere
			}
			if fault == nil {
				path = append(path, event)
			}
		}
		_, got, _ := strings.Cut(scores(log.Result()), " ")
		require.Equal(t, strings.Join(slow.Report(), " "), got, "%s %v", id, path)
		ended[log.Result().Cause]++
	}
	t.Log(ended)
	require.GreaterOrEqual(t, len(ended), 6)
}
