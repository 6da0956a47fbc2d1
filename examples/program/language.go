package program

import (
	"fmt"
	"strings"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/words"
)

// languageOption is the option that every program has.
const languageOption = "language"

// LanguageFlag is the flag -language, which every program has; it sets the tag.
func LanguageFlag(tag *string) cli.Flag {
	return &cli.StringFlag{Name: languageOption, Destination: tag, Value: "en", Usage: "`LANGUAGE` of what is said: " + strings.Join(texts.Tags(), ", ")}
}

// asked is the language that a command line asks for, known before the line is
// read, so that what is wrong with the line is said in it too; English where none
// is asked for, or one that there is not.
func asked(args []string) *words.Language {
	tag := "en"
	for i, arg := range args {
		name, value, together := strings.Cut(strings.TrimLeft(arg, "-"), "=")
		if name != languageOption || name == arg {
			continue
		}
		if !together && i+1 < len(args) {
			value = args[i+1]
		}
		tag = value
	}
	l, err := texts.Language(tag)
	if err != nil {
		l, _ = texts.Language("en")
	}
	return l
}

// speech is the command line of a program in words: those of the catalog, where
// its codes are there for the program.
type speech struct {
	language *words.Language
	codes    map[words.Code]words.Signature
}

// speechOf is nil for a program whose command line is not in the catalog.
func speechOf(name string, args []string) *speech {
	s := &speech{codes: map[words.Code]words.Signature{}}
	for _, e := range texts.Codes() {
		s.codes[e.Code] = e
	}
	if _, known := s.codes[words.Code(name+".about")]; !known {
		return nil
	}
	s.language = asked(args)
	return s
}

// help is the page of options, from the codes of the catalog: NAME.about, a
// NAME.option-X each. What the usage of a flag holds before, a list of what may be
// given say, goes into its text as {values}, what it is set to as {default}.
func (s *speech) help(c *cli.Command) {
	tell := func(c words.Code, args ...words.Arg) string { return s.language.Say(words.New(c, args...)) }
	c.Usage = tell(words.Code(c.Name + ".about"))
	c.CustomRootCommandHelpTemplate = "{{.Name}}: {{.Usage}}\n\n" + tell("program.options") + ":{{template \"visibleFlagTemplate\" .}}\n\n"
	text := func(name, values string, set any) string {
		code := words.Code(c.Name + ".option-" + name)
		if name == languageOption {
			code, values = "program.option-language", strings.Join(texts.Tags(), ", ")
		}
		var args []words.Arg
		for _, p := range s.codes[code].Params {
			args = append(args, words.Name(p.Name, map[string]string{"values": values, "default": fmt.Sprint(set)}[p.Name]))
		}
		return tell(code, args...)
	}
	c.Flags = append(c.Flags, &cli.BoolFlag{Name: "help", Aliases: []string{"h"}, Usage: tell("program.option-help"), Local: true})
	for _, f := range c.Flags[:len(c.Flags)-1] {
		switch f := f.(type) {
		case *cli.StringFlag:
			f.Usage, f.HideDefault = text(f.Name, f.Usage, f.Value), true
		case *cli.BoolFlag:
			f.Usage = text(f.Name, f.Usage, f.Value)
		case *cli.IntFlag:
			f.Usage, f.HideDefault = text(f.Name, f.Usage, f.Value), true
		case *cli.Uint64Flag:
			f.Usage, f.HideDefault = text(f.Name, f.Usage, f.Value), true
		}
	}
}

// usage puts what is wrong with a command line into words. The library that
// reads it tells the sorts apart by their beginning only.
func (s *speech) usage(err error) error {
	said := err.Error()
	for _, known := range []struct {
		begins string
		code   words.Code
	}{
		{"flag provided but not defined: ", "program.no-option"}, {"flag needs an argument: ", "program.no-value"}, {"invalid value ", "program.bad-value"},
	} {
		rest, ok := strings.CutPrefix(said, known.begins)
		if !ok {
			continue
		}
		if value, option, cut := strings.Cut(rest, " for flag "); cut {
			option, _, _ = strings.Cut(option, ":")
			return texts.Wrong(known.code, words.Name("option", option), words.Name("value", Shorten(value)))
		}
		return texts.Wrong(known.code, words.Name("option", Shorten(rest)))
	}
	return texts.Wrong("program.unread", words.Name("reason", said))
}
