package main

import (
	"strings"

	"rsc.io/qr"
)

// qrCode draws a text for a terminal, two rows of squares a line, light on
// dark as phones expect it where the terminal is dark: its quiet zone is drawn.
func qrCode(text string) (string, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	const quiet = 4
	light := func(x, y int) bool { return !code.Black(x, y) }
	var out strings.Builder
	for y := -quiet; y < code.Size+quiet; y += 2 {
		for x := -quiet; x < code.Size+quiet; x++ {
			upper, lower := light(x, y), y+1 < code.Size+quiet && light(x, y+1)
			out.WriteString([...]string{" ", "▄", "▀", "█"}[two(upper)*2+two(lower)])
		}
		out.WriteByte('\n')
	}
	return out.String(), nil
}

func two(set bool) int {
	if set {
		return 1
	}
	return 0
}
