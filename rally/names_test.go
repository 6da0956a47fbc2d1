package rally_test

import "github.com/evencourt/evencourt/format"

func mustParse(id string) format.Format {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	return f
}

// rationed is the number of time-outs a side has in game n of a format.
func rationed(id string, n int) int {
	f := mustParse(id)
	return int(f.Of(n).TimeOuts)
}
