package rally

// A LineField is a field of the canonical line: its name, and where it counts
// something of each side the most that it counts to; where it is a letter for each
// player, the letters.
type LineField struct {
	Name    string
	Most    int
	Letters string
}

// LineFields lists the fields of the canonical line in their order.
func LineFields() []LineField {
	out := make([]LineField, len(lineFields))
	for i, f := range lineFields {
		out[i] = LineField{Name: f.name, Letters: f.letters}
		if f.letters == "" && f.width > 0 {
			out[i].Most = 1<<f.width - 1
		}
	}
	return out
}
