package audit

import "github.com/evencourt/evencourt/format"

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
	if wrong := readJSON(text, s.read(), "want one value"); wrong != nil {
		return Scoring{}, wrong
	}
	if _, err := NewFinalsOf(s); err != nil {
		return Scoring{}, err
	}
	return s, nil
}

func (s *Scoring) read() reading {
	return object([]field{
		{"target", number(&s.Target)}, {"win_by", number(&s.WinBy)}, {"cap", number(&s.Cap)}, {"last", maybe(&s.Last, (*GameEnd).read)},
		{"games", number(&s.Games)}, {"play_all", truth(&s.PlayAll)}, {"time_outs", maybe(&s.TimeOuts, number)},
	})
}

func (e *GameEnd) read() reading {
	return object([]field{{"target", number(&e.Target)}, {"win_by", number(&e.WinBy)}, {"cap", number(&e.Cap)}})
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
