package words

import "strings"

// Nearest returns the known word that differs least from a typed one, the first
// of several: by at most so many letters put in, left out, changed or
// exchanged with the next, and by fewer than half of its own; "" for none. Large and small letters are alike.
func Nearest(typed string, known []string, most int) string {
	best, least := "", most+1
	typed = strings.ToLower(typed)
	for _, word := range known {
		if n := apart(typed, strings.ToLower(word)); n < least && 2*n < len(word) {
			best, least = word, n
		}
	}
	return best
}

// apart is how many letters must be put in, left out, changed or exchanged with
// the next to make one word of another.
func apart(a, b string) int {
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before, last, row = last, row, before
		row[0] = i + 1
		for j := range len(b) {
			n := last[j]
			if a[i] != b[j] {
				n++
			}
			row[j+1] = min(n, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
	}
	return row[len(b)]
}
