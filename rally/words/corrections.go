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

// Because is the text of a family for a refusal, "refusal." or "instead.": one of its
// own for this kind of event, where the same refusal has several causes.
func Because(family Code, r rally.Refusal, k rally.Kind) Text {
	code := family + Code(r.String())
	if _, ok := Lookup(code + "." + Code(k.String())); ok {
		code += "." + Code(k.String())
	}
	return New(code)
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
