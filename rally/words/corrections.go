package words

import "github.com/evencourt/evencourt/rally"

// Correction says why a log did not take an entry: by its refusal, or where the
// log states a reason of its own, by that.
func Correction(e *rally.EntryError) Text {
	switch {
	case e.Reason == "":
		return For(e.Refusal)
	case e.Detail == "":
		return New("correction." + Code(e.Reason))
	}
	return New("correction."+Code(e.Reason), Name("detail", e.Detail))
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
