package explore_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"github.com/evencourt/evencourt/rally/explore"
)

func BenchmarkGameTo11(b *testing.B) {
	g := newGame(b, "sideout-doubles-11@2026")
	rates := explore.Rates{Serve: [2]float64{0.45, 0.42}}
	b.Run("win", func(b *testing.B) {
		for b.Loop() {
			_, err := g.Win(rates)
			require.NoError(b, err)
		}
	})
	b.Run("figures", func(b *testing.B) {
		for b.Loop() {
			_, err := g.Figures(rates)
			require.NoError(b, err)
		}
	})
	b.Run("length", func(b *testing.B) {
		for b.Loop() {
			_, err := g.Length(rates)
			require.NoError(b, err)
		}
	})
}
