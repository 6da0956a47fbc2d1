//go:build !js

package texts

import (
	"strings"

	"github.com/urfave/cli/v3"
)

// Flag is the flag -language, which every program has; it sets the tag. A browser
// build has no command line and leaves it out.
func Flag(tag *string) cli.Flag {
	return &cli.StringFlag{Name: "language", Destination: tag, Value: "en", Usage: "`LANGUAGE` of what is said: " + strings.Join(Tags(), ", ")}
}
