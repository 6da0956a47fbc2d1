package record

import (
	"bytes"
	"fmt"
	"hash/crc32"
)

// Every line ends in its checksum: the last field, sixteen hexadecimal digits.
// The first eight are the last eight of the line before, noSum in the header;
// the last eight are the CRC-32 of these and of the line up to its checksum.
const (
	sumField = `,"sum":"`
	sumEnd   = `"}`
	sumHalf  = 8
	noSum    = "00000000"
)

func sumOf(body []byte, before string) string {
	h := crc32.NewIEEE()
	_, _ = h.Write([]byte(before))
	_, _ = h.Write(body)
	return fmt.Sprintf("%08x", h.Sum32())
}

// seal adds the checksum to a JSON object that follows a line.
func seal(line []byte, before string) []byte {
	body := bytes.TrimSuffix(line, []byte("}"))
	return append(append([]byte(nil), body...), sumField+before+sumOf(body, before)+sumEnd...)
}

// unseal returns the two halves of the checksum of a line, and whether the line
// is what it was when it was sealed.
func unseal(line []byte) (before, sum string, whole bool) {
	at := len(line) - len(sumField) - 2*sumHalf - len(sumEnd)
	if at < 0 || !bytes.HasPrefix(line[at:], []byte(sumField)) || !bytes.HasSuffix(line, []byte(sumEnd)) {
		return "", "", false
	}
	halves := line[at+len(sumField) : len(line)-len(sumEnd)]
	before, sum = string(halves[:sumHalf]), string(halves[sumHalf:])
	return before, sum, sum == sumOf(line[:at], before)
}
