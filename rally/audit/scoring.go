package audit

import (
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally/internal/jsontext"
)

// Scoring is all that a final score depends on: a format reduced to target,
// margin, cap and number of games. It is enough to audit the finals of other
// games that count alike.
type Scoring struct {
	Target   int      `json:"target"`
	WinBy    int      `json:"win_by"`
	Cap      int      `json:"cap,omitempty"`       // points that win by any margin; 0 for none
	Last     *GameEnd `json:"last,omitempty"`      // the last possible game, if it differs
	Games    int      `json:"games"`               // most games that can be played
	PlayAll  bool     `json:"play_all,omitempty"`  // all are played, even when decided
	TimeOuts *int     `json:"time_outs,omitempty"` // a side's in a game; nil if that is not checked
}

// GameEnd is how one game ends.
type GameEnd struct {
	Target int `json:"target"`
	WinBy  int `json:"win_by"`
	Cap    int `json:"cap,omitempty"`
}

// ReadScoring reads a scoring as JSON. Unknown fields and impossible values
// are an [*InputError].
func ReadScoring(text []byte) (Scoring, error) {
	var s Scoring
	if wrong := readJSON(text, &s, "want one value"); wrong != nil {
		return Scoring{}, wrong
	}
	if _, err := NewFinalsOf(s); err != nil {
		return Scoring{}, err
	}
	return s, nil
}

func (s *Scoring) read(v jsontext.Value, at string) *InputError {
	return object(v, at, []field{
		{"target", &s.Target}, {"win_by", &s.WinBy}, {"cap", &s.Cap}, {"last", maybe[GameEnd]{&s.Last}},
		{"games", &s.Games}, {"play_all", &s.PlayAll}, {"time_outs", maybe[int]{&s.TimeOuts}},
	})
}

func (e *GameEnd) read(v jsontext.Value, at string) *InputError {
	return object(v, at, []field{{"target", &e.Target}, {"win_by", &e.WinBy}, {"cap", &e.Cap}})
}

// game turns a scoring's numbers into the part of a format that ends a game.
func (e GameEnd) game(at string) (format.Game, error) {
	fault := func(field, reason string) (format.Game, error) {
		return format.Game{}, &InputError{Field: at + field, Reason: reason}
	}
	switch {
	case e.Target < 1 || e.Target > 250:
		return fault("target", "must be 1 to 250")
	case e.WinBy < 1 || e.WinBy > e.Target:
		return fault("win_by", "must be 1 to target")
	case e.Cap != 0 && (e.Cap < e.Target || e.Cap > format.MostPoints):
		return fault("cap", "must be 0 for none, or target to 255")
	}
	return format.Game{Target: uint8(e.Target), WinBy: uint8(e.WinBy), Cap: uint8(e.Cap)}, nil
}
