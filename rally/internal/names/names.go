// Package names finds the text names of enums, which stand in a slice indexed by
// their values.
package names

// Of returns the name of a value; "?" for one that is none.
func Of[E ~uint8](names []string, v E) string {
	if int(v) < len(names) {
		return names[v]
	}
	return "?"
}

// Find returns the value of a name; false if there is none.
func Find[E ~uint8](names []string, name string) (E, bool) {
	for i, n := range names {
		if n == name {
			return E(i), true
		}
	}
	return 0, false
}
