package words

import (
	"sync"

	"github.com/evencourt/evencourt/rally"
)

// Correction says why a log did not take an entry: by its refusal, or where the
// log states a reason of its own, by that.
func Correction(e *rally.EntryError) Text {
	if e.Reason == "" {
		return For(e.Refusal)
	}
	if code, known := corrections()[e.Reason]; known {
		return New(code)
	}
	return New("correction.said", Name("reason", e.Reason))
}

// corrections are the codes of the reasons that a log states, by what the core
// says, which is what English says.
var corrections = sync.OnceValue(func() map[string]Code {
	out := map[string]Code{}
	for _, e := range Codes() {
		if e.Code.family("correction.") && len(e.Params) == 0 {
			out[English().Say(New(e.Code))] = e.Code
		}
	}
	return out
})
