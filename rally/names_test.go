package rally_test

import "github.com/evencourt/evencourt/format"

func mustParse(id string) format.Format {
	f, err := format.Parse(id)
	if err != nil {
		panic(err)
	}
	return f
}
