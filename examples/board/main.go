// Command board shows the courts of a club on one page each, in large print, and
// takes what their referees enter. Every court is a record on the disk: what was
// answered is there, whatever happens to the program.
//
//	go run ./examples/board
//
// It prints two links a court: one to watch, for everybody, and one to enter, for
// whoever officiates there, with a secret in it that is kept in a file beside the
// record. It listens to this machine only unless told otherwise.
//
// # What a program sends that enters, such as the page on a referee's phone
//
// ENTER is the address to enter, /court/N/SECRET. What is sent and answered is JSON;
// pages from anywhere may ask.
//
//	POST ENTER       {"id": "p1-7", "match": 1, "n": 12, "do": "A", "ms": 1795760000000}
//	POST ENTER/next  {"match": 2, "format": "sideout-doubles-11@2026", "setup": {…}}
//	PUT  ENTER       {"sides": …}: the names of the match, as a record holds them
//	GET  ENTER/log   what has been entered so far: {"log": ["gA1B1", "A", …]}
//	GET  /live/N     server-sent events: "board" after every change, as snapshot.d.ts
//	                 of package rally types it, and "words" for its codes
//
// An entry is "do", as LINE.md of the corpus writes it, corrections too. Only "do" is
// needed. Under an "id" it is taken once, however often it is sent. With "n", the
// number that it is to have, it is refused if another device has been there first, and
// with "match" if another match is on the court. "ms" is when it happened, in
// milliseconds since 1970, where that was before it was sent.
//
// A device that was without a connection sends what it holds in one body, one object
// after another, 64 KiB at most. They are taken in order up to the first that is
// refused; sent again, what was taken adds nothing. Every answer holds the number of
// the "match" on the court and of its "entries"; an entry's is that of the last one:
//
//	200 {"match": 1, "entries": 12, "n": 12, "did": "point", "again": false}
//	409 {"match": 1, "entries": 13, "code": "stale", "error": "Somebody else has …"}
//
// A "code" is that of the refusal ("no-break"), "stale" or "other-match" (409: ask for
// the log, and see what the other device entered), "unread" or "other-request" (400:
// an id that was used for something else), "busy" (429: wait and send it again) or
// "disk" (500). A wrong secret is 404. The next match can begin when the last is over
// ("playing" before), and begins once.
package main

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/program/serve"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/words"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

func run(args []string, in io.Reader, out, complaints io.Writer) int {
	var addr, dir, id, tag string
	var courts int
	return program.Run(&cli.Command{
		Name:  "board",
		Usage: "shows the courts of a club and takes what their referees enter",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "addr", Destination: &addr, Value: "127.0.0.1:8090", Usage: "`ADDRESS` to listen to"},
			&cli.StringFlag{Name: "dir", Destination: &dir, Value: "courts", Usage: "`FOLDER` of the records"},
			&cli.IntFlag{Name: "courts", Destination: &courts, Value: 3, Usage: "how many courts, 1 to 50"},
			&cli.StringFlag{Name: "format", Destination: &id, Value: "sideout-doubles-11-of3@2026", Usage: "`FORMAT` of new matches"},
			program.LanguageFlag(&tag),
		},
		Action: func(context.Context, *cli.Command) error {
			f, err := format.Parse(id)
			if err != nil {
				return err
			}
			language, err := texts.Language(tag)
			if err != nil {
				return err
			}
			if courts < 1 || courts > 50 {
				return fmt.Errorf("-courts must be 1 to 50, not %d", courts)
			}
			return keep(addr, dir, courts, rally.MustCompile(f), language, out)
		},
	}, args, in, out, complaints)
}

// keep keeps the courts until it is interrupted.
func keep(addr, dir string, courts int, rules *rally.Rules, language *words.Language, out io.Writer) error {
	club := &club{language: language, streams: make(chan struct{}, mostStreams)}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	for n := 1; n <= courts; n++ {
		c, err := open(dir, n, rules)
		if err != nil {
			return fmt.Errorf("court %d: %w", n, err)
		}
		defer func() { _ = c.match.Close() }()
		club.courts = append(club.courts, c)
	}
	listener, err := net.Listen("tcp", addr)
	if err != nil {
		return err
	}
	at := "http://" + listener.Addr().String()
	for _, c := range club.courts {
		watch := fmt.Sprintf("%s/court/%d", at, c.n)
		fmt.Fprintln(out, language.Say(words.New("board.court", words.Count("court", c.n), words.Name("watch", watch), words.Name("enter", watch+"/"+c.secret))))
	}
	return serve.Until(context.Background(), listener, &http.Server{Handler: club.handler()}, "", "")
}
