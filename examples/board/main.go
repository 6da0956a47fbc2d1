// Command board shows the courts of a club on one page each, in large print, and
// takes what their referees enter. Every court is a record on the disk: what was
// answered is there, whatever happens to the program.
//
//	go run ./examples/board
//
// It prints two links a court: one to watch, for everybody, and one to enter, for
// whoever officiates there, with a secret in it that is kept in a file beside the
// record. It listens to this machine only unless told otherwise.
package main

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/format"
	"github.com/evencourt/evencourt/rally"
	"github.com/evencourt/evencourt/rally/record"
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
			return serve(addr, dir, courts, rally.MustCompile(f), language, out)
		},
	}, args, in, out, complaints)
}

// serve keeps the courts until it is interrupted.
func serve(addr, dir string, courts int, rules *rally.Rules, language *words.Language, out io.Writer) error {
	club := &club{language: language, streams: make(chan struct{}, mostStreams)}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	for n := 1; n <= courts; n++ {
		c, err := open(dir, n, rules)
		if err != nil {
			return fmt.Errorf("court %d: %w", n, err)
		}
		defer c.match.Close()
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
	server := &http.Server{Handler: club.handler(), ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, MaxHeaderBytes: 1 << 14}
	ends, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	go func() {
		<-ends.Done()
		_ = server.Close()
	}()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// court is one match that is kept, and what whoever enters it must know.
type court struct {
	n      int
	secret string
	match  *record.Match
	pace   pace
}

// open goes on with the match of a court, or begins one.
func open(dir string, n int, rules *rally.Rules) (*court, error) {
	path := filepath.Join(dir, fmt.Sprintf("court-%d.jsonl", n))
	_, w, err := record.Resume(path)
	if errors.Is(err, fs.ErrNotExist) {
		w, err = record.Create(path, demo(n, rules), rally.NewLog(rules, rally.State{}))
	}
	if err != nil {
		return nil, err
	}
	secret, err := secretIn(filepath.Join(dir, fmt.Sprintf("court-%d.key", n)))
	return &court{n: n, secret: secret, match: record.Keep(w, nil)}, err
}

// secretIn returns the secret that a file holds, or makes one.
func secretIn(path string) (string, error) {
	if text, err := os.ReadFile(path); err == nil && len(strings.TrimSpace(string(text))) >= 20 {
		return strings.TrimSpace(string(text)), nil
	}
	secret := rand.Text()
	return secret, os.WriteFile(path, []byte(secret+"\n"), 0o600)
}

// demo are the names of the invented ladder.
func demo(n int, rules *rally.Rules) rally.Setup {
	u := rally.Setup{Match: "Harbour Lane Courts autumn ladder", Court: fmt.Sprint(n), Referee: "Noor Haddad"}
	if rules.Format().Game.Sides == format.Singles {
		u.Sides[rally.A].Players[0] = rally.Player{Name: "Mei-Lin Castellanos"}
		u.Sides[rally.B].Players[0] = rally.Player{Name: "Rafael Oyelaran"}
		return u
	}
	u.Sides[rally.A].Players = [2]rally.Player{{Name: "Imani Okafor"}, {Name: "Tomasz Zielinski"}}
	u.Sides[rally.B].Players = [2]rally.Player{{Name: "Priya Raman"}, {Name: "Lars Nyberg"}}
	return u
}
