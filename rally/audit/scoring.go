package audit

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"

	"github.com/evencourt/evencourt/format"
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
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&s); err != nil {
		return Scoring{}, jsonError(err, 0)
	}
	if _, err := d.Token(); err != io.EOF {
		return Scoring{}, &InputError{Reason: "want one value"}
	}
	if _, err := NewFinalsOf(s); err != nil {
		return Scoring{}, err
	}
	return s, nil
}

// jsonError makes a typed error of what encoding/json says.
func jsonError(err error, line int) error {
	var wrongType *json.UnmarshalTypeError
	var syntax *json.SyntaxError
	var input *InputError
	switch {
	case errors.As(err, &input):
		return &InputError{line, input.Field, input.Reason}
	case errors.As(err, &wrongType):
		field := strings.TrimPrefix(wrongType.Field, "ReportedMatch.") // embedded in a line
		return &InputError{line, field, "want " + kindWord(wrongType.Type.Kind().String()) + ", not " + begin(wrongType.Value)}
	case errors.As(err, &syntax):
		return &InputError{line, "", "no JSON: " + syntax.Error()}
	case errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF):
		return &InputError{line, "", "no JSON: unexpected end"}
	}
	return &InputError{line, "", begin(strings.TrimPrefix(err.Error(), "json: "))}
}

// begin keeps a message short whatever was read.
func begin(text string) string {
	const most = 80
	if len(text) <= most {
		return text
	}
	return strings.ToValidUTF8(text[:most], "") + "…"
}

func kindWord(kind string) string {
	switch kind {
	case "int", "uint8", "int64":
		return "a whole number"
	case "struct", "map":
		return "an object"
	case "slice", "array":
		return "a list"
	case "string":
		return "a text"
	case "bool":
		return "true or false"
	}
	return kind
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
