package format

import "strconv"

// MarshalJSON implements json.Marshaler: an object from the name of every switch
// to its value, in the order of the switches.
func (r Rulings) MarshalJSON() ([]byte, error) { return r.AppendJSON(nil), nil }

// AppendJSON appends what [Rulings.MarshalJSON] writes.
func (r *Rulings) AppendJSON(b []byte) []byte {
	for s := Switch(1); s < switchCount; s++ {
		b = append(b, ",{"[number01(s == 1)])
		b = append(append(append(b, '"'), table[s].id...), `":"`...)
		b = append(append(b, r.Text(s)...), '"')
	}
	return append(b, '}')
}

// String is the text of [Rulings.MarshalJSON].
func (r Rulings) String() string { return string(r.AppendJSON(nil)) }

// UnmarshalJSON implements json.Unmarshaler. A switch that the object does not
// name keeps the value that it has in r: rulings that were written before the
// switch existed are read into those of their edition. Unknown names, a name
// twice and anything that is no such object are an [*Error].
func (r *Rulings) UnmarshalJSON(data []byte) error {
	at := 0
	space := func() {
		for at < len(data) && (data[at] == ' ' || data[at] == '\t' || data[at] == '\n' || data[at] == '\r') {
			at++
		}
	}
	next := func(c byte) bool {
		if space(); at < len(data) && data[at] == c {
			at++
			return true
		}
		return false
	}
	bad := func() error { return &Error{"rulings", "no object of names and values at byte " + strconv.Itoa(at)} }
	text := func() (string, bool) { // names and values need no escapes
		if !next('"') {
			return "", false
		}
		from := at
		for at < len(data) && data[at] != '"' && data[at] != '\\' {
			at++
		}
		at++
		return string(data[from:min(at-1, len(data))]), at <= len(data) && data[at-1] == '"'
	}
	if !next('{') {
		return bad()
	}
	got, seen := *r, [switchCount]bool{}
	for more := !next('}'); more; {
		name, ok := text()
		if !ok || !next(':') {
			return bad()
		}
		var s Switch
		if s.UnmarshalText([]byte(name)) != nil {
			return &Error{"rulings", "no switch is called " + Quote(name)}
		}
		value, ok := text()
		if !ok {
			return &Error{"rulings." + name, "want a value in quotes"}
		}
		if seen[s] {
			return &Error{"rulings." + name, "stands twice"}
		}
		seen[s] = true
		if err := got.SetText(s, value); err != nil {
			return err
		}
		if more = next(','); !more && !next('}') {
			return bad()
		}
	}
	if space(); at != len(data) {
		return bad()
	}
	*r = got
	return nil
}

// DataVersion is the version of what this package says of the editions and the
// named shapes. It is raised whenever the id of a format comes to mean another
// value of a field or a switch, or a switch is added.
const DataVersion = 2

// Digest tells formats apart by all that they hold: every field of game and
// match and the value of every switch, by name, and neither shape nor edition.
// A record that keeps the digest beside the id of its format can tell whether
// the id still means the same. It is 64-bit FNV-1a over text, and the same on
// every machine.
func (f Format) Digest() uint64 {
	const offset, prime = 14695981039346656037, 1099511628211
	b := make([]byte, 0, 2048)
	for i := range gameFields {
		game, last := gameFields[i].get(&f.Game), gameFields[i].get(&f.Last)
		if i >= fieldsOfOld && game|last == 0 {
			continue
		}
		b = gameFields[i].append(b, "", game)
		b = gameFields[i].append(b, "last-", last)
	}
	for i := range matchFields {
		b = matchFields[i].append(b, "", matchFields[i].get(&f.Match))
	}
	sum := uint64(offset)
	for _, c := range f.Rulings.AppendJSON(b) {
		sum = (sum ^ uint64(c)) * prime
	}
	return sum
}
