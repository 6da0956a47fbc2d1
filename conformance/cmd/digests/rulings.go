package main

import (
	"encoding/json"
	"os"
	"path/filepath"

	"github.com/evencourt/evencourt/conformance/digests"
)

// writeRulings computes the digest of the rulings of every edition.
func writeRulings() error {
	var rows []digests.RulingsRow
	for _, e := range digests.EditionsWithRulings() {
		sum, err := digests.Rulings(e)
		if err != nil {
			return err
		}
		rows = append(rows, digests.RulingsRow{Edition: e, Rulings: sum, Computed: []string{"evencourt"}, Confirmed: []string{}})
	}
	text, err := json.MarshalIndent(rows, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.FromSlash("conformance/digests/rulings.json"), append(text, '\n'), 0o666)
}
