package exercise

import "github.com/evencourt/evencourt/rally/words"

func say(c words.Code, args ...words.Arg) words.Text { return words.New(c, args...) }

func plain(name, v string) words.Arg           { return words.Name(name, v) }
func number(name string, n int) words.Arg      { return words.Count(name, n) }
func text(name string, t words.Text) words.Arg { return words.Within(name, t) }
