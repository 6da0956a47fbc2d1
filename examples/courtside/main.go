// Courtside is the page a referee holds: it builds the page, serves it and prints
// its address, in a QR code too, for the phone. After the first load it works
// without a network.
//
//	courtside                          serve it to this machine
//	courtside -addr :8443 -cert C -key K  to phones in the house, with a certificate
//	courtside -out DIR                 write it as plain files for any web server
//
// Browsers let a page work without a network, and be installed, only where its
// address begins with https, or on the machine itself.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"time"

	"github.com/urfave/cli/v3"

	"github.com/evencourt/evencourt/examples/program"
	"github.com/evencourt/evencourt/examples/program/serve"
	"github.com/evencourt/evencourt/examples/texts"
	"github.com/evencourt/evencourt/rally/words"
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// options are what the command line says.
type options struct{ addr, out, cert, key string }

func run(args []string, in io.Reader, out, errs io.Writer) int {
	var o options
	var tag string
	return program.Run(&cli.Command{
		Name:  "courtside",
		Usage: "builds the page a referee holds, serves it and prints its address",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "addr", Destination: &o.addr, Value: "127.0.0.1:8095", Usage: "`ADDRESS` to listen to; :8095 for every machine in the house"},
			&cli.StringFlag{Name: "out", Destination: &o.out, Usage: "write the page into `FOLDER` for any web server, and end"},
			&cli.StringFlag{Name: "cert", Destination: &o.cert, Usage: "`FILE` of a certificate that the phones trust, with -key"},
			&cli.StringFlag{Name: "key", Destination: &o.key, Usage: "`FILE` of its key"},
			program.LanguageFlag(&tag),
		},
		Action: func(ctx context.Context, c *cli.Command) error {
			language, err := texts.Language(tag)
			switch {
			case err != nil:
				return err
			case c.Args().Present():
				return fmt.Errorf("nothing is read from the command line but options, found %q; -h lists them", program.Shorten(c.Args().First()))
			case (o.cert == "") != (o.key == ""):
				return errors.New("-cert and -key go together")
			case o.out != "" && (c.IsSet("addr") || o.cert != ""):
				return errors.New("-out writes files and serves nothing: leave -addr, -cert and -key out")
			}
			fmt.Fprintln(errs, language.Say(words.New("courtside.building")))
			s, err := build()
			if err != nil {
				return err
			}
			files := packs(s)
			if o.out != "" {
				if err := write(o.out, files); err != nil {
					return err
				}
				fmt.Fprintln(out, language.Say(words.New("courtside.written", words.Name("dir", o.out), words.Count("files", len(s)))))
				return nil
			}
			return o.serve(ctx, files, language, out)
		},
	}, args, in, out, errs)
}

// serve serves the page until it is interrupted.
func (o *options) serve(ctx context.Context, files map[string]pack, language *words.Language, out io.Writer) error {
	listener, err := net.Listen("tcp", o.addr)
	if err != nil {
		return err
	}
	at := address(listener.Addr().(*net.TCPAddr), o.cert != "")
	code, err := qrCode(at)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s\n%s", code, at+"\n")
	if o.cert == "" && !listener.Addr().(*net.TCPAddr).IP.IsLoopback() {
		fmt.Fprintln(out, language.Say(words.New("courtside.plain-http")))
	}
	return serve.Until(ctx, listener, &http.Server{Handler: handler(files), IdleTimeout: time.Minute}, o.cert, o.key)
}

// address is what a phone types: where all addresses are listened to, that of
// this machine in its network.
func address(a *net.TCPAddr, secure bool) string {
	scheme, host := "http", a.IP.String()
	if secure {
		scheme = "https"
	}
	if a.IP.IsUnspecified() {
		host = "localhost"
		all, _ := net.InterfaceAddrs() // none is as good as an error here
		for _, each := range all {
			if n, ok := each.(*net.IPNet); ok && n.IP.To4() != nil && !n.IP.IsLoopback() {
				host = n.IP.String()
				break
			}
		}
	}
	return fmt.Sprintf("%s://%s/", scheme, net.JoinHostPort(host, fmt.Sprint(a.Port)))
}
