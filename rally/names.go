package rally

import "github.com/evencourt/evencourt/rally/internal/names"

// String returns the text name of v.
func (v Kind) String() string { return names.Of(kindNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Kind) MarshalText() ([]byte, error) { return marshal("kind", kindNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Kind) UnmarshalText(text []byte) error { return unmarshal("kind", kindNames, text, v) }

// String returns the text name of v.
func (v Phase) String() string { return names.Of(phaseNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Phase) MarshalText() ([]byte, error) { return marshal("phase", phaseNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Phase) UnmarshalText(text []byte) error { return unmarshal("phase", phaseNames, text, v) }

// String returns the text name of v.
func (v Break) String() string { return names.Of(breakNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Break) MarshalText() ([]byte, error) { return marshal("break", breakNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Break) UnmarshalText(text []byte) error { return unmarshal("break", breakNames, text, v) }

// String returns the text name of v.
func (v Cause) String() string { return names.Of(causeNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Cause) MarshalText() ([]byte, error) { return marshal("cause", causeNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Cause) UnmarshalText(text []byte) error { return unmarshal("cause", causeNames, text, v) }

// String returns the text name of v.
func (v Choice) String() string { return names.Of(choiceNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Choice) MarshalText() ([]byte, error) { return marshal("choice", choiceNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Choice) UnmarshalText(text []byte) error { return unmarshal("choice", choiceNames, text, v) }

// String returns the text name of v.
func (v Fault) String() string { return names.Of(faultNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Fault) MarshalText() ([]byte, error) { return marshal("fault", faultNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Fault) UnmarshalText(text []byte) error { return unmarshal("fault", faultNames, text, v) }

// String returns the text name of v.
func (v Mistake) String() string { return names.Of(mistakeNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Mistake) MarshalText() ([]byte, error) { return marshal("mistake", mistakeNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Mistake) UnmarshalText(text []byte) error {
	return unmarshal("mistake", mistakeNames, text, v)
}

// String returns the text name of v.
func (v Reach) String() string { return names.Of(reachNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Reach) MarshalText() ([]byte, error) { return marshal("reach", reachNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Reach) UnmarshalText(text []byte) error { return unmarshal("reach", reachNames, text, v) }

// String returns the text name of v.
func (v Since) String() string { return names.Of(sinceNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Since) MarshalText() ([]byte, error) { return marshal("since", sinceNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Since) UnmarshalText(text []byte) error { return unmarshal("since", sinceNames, text, v) }

// String returns the text name of v.
func (v Stopper) String() string { return names.Of(stopperNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Stopper) MarshalText() ([]byte, error) { return marshal("stopper", stopperNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Stopper) UnmarshalText(text []byte) error {
	return unmarshal("stopper", stopperNames, text, v)
}

// String returns the text name of v.
func (v ResultWord) String() string { return names.Of(resultNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v ResultWord) MarshalText() ([]byte, error) { return marshal("result", resultNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *ResultWord) UnmarshalText(text []byte) error {
	return unmarshal("result", resultNames, text, v)
}

// String returns the text name of v.
func (v Refusal) String() string { return names.Of(refusalNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Refusal) MarshalText() ([]byte, error) { return marshal("refusal", refusalNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Refusal) UnmarshalText(text []byte) error {
	return unmarshal("refusal", refusalNames, text, v)
}

// String returns the text name of v.
func (v Hand) String() string { return names.Of(handNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Hand) MarshalText() ([]byte, error) { return marshal("hand", handNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Hand) UnmarshalText(text []byte) error { return unmarshal("hand", handNames, text, v) }

// String returns the text name of v.
func (v Depth) String() string { return names.Of(depthNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Depth) MarshalText() ([]byte, error) { return marshal("depth", depthNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Depth) UnmarshalText(text []byte) error { return unmarshal("depth", depthNames, text, v) }

// String returns the text name of v.
func (v Medical) String() string { return names.Of(medicalNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Medical) MarshalText() ([]byte, error) { return marshal("medical", medicalNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Medical) UnmarshalText(text []byte) error {
	return unmarshal("medical", medicalNames, text, v)
}

// String returns the text name of v.
func (v Absence) String() string { return names.Of(absenceNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Absence) MarshalText() ([]byte, error) { return marshal("absence", absenceNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Absence) UnmarshalText(text []byte) error {
	return unmarshal("absence", absenceNames, text, v)
}

// String returns the text name of v.
func (v Carry) String() string { return names.Of(carryNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Carry) MarshalText() ([]byte, error) { return marshal("carry", carryNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Carry) UnmarshalText(text []byte) error { return unmarshal("carry", carryNames, text, v) }

// String returns the text name of v.
func (v How) String() string { return names.Of(howNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v How) MarshalText() ([]byte, error) { return marshal("how", howNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *How) UnmarshalText(text []byte) error { return unmarshal("how", howNames, text, v) }

// String returns the text name of v.
func (v Interval) String() string { return names.Of(intervalNames, v) }

// MarshalText implements encoding.TextMarshaler.
func (v Interval) MarshalText() ([]byte, error) { return marshal("interval", intervalNames, v) }

// UnmarshalText implements encoding.TextUnmarshaler; it refuses unknown names.
func (v *Interval) UnmarshalText(text []byte) error {
	return unmarshal("interval", intervalNames, text, v)
}

func marshal[T ~uint8](kind string, list []string, v T) ([]byte, error) {
	if int(v) >= len(list) {
		return nil, &NameError{kind, names.Of(list, v)}
	}
	return []byte(list[v]), nil
}

func unmarshal[T ~uint8](kind string, list []string, text []byte, v *T) error {
	found, ok := names.Find[T](list, string(text))
	if !ok {
		return &NameError{kind, shorten(string(text))}
	}
	*v = found
	return nil
}
