package program

import (
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/texts"
)

// LanguageFlag is the flag -language, which every program has; it sets the tag.
func LanguageFlag(tag *string) cli.Flag {
	return &cli.StringFlag{Name: "language", Destination: tag, Value: "en", Usage: "`LANGUAGE` of what is said: " + strings.Join(texts.Tags(), ", ")}
}
