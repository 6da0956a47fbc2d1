package main

import "fmt"

// step counts a row of a file and draws how much of the file is read, where
// its size is known.
func (c *checker) step(src *source) {
	if src.rows++; src.rows%1024 != 0 || !c.bar.Due() {
		return
	}
	c.bar.What = fmt.Sprintf("%d rows", src.rows)
	c.bar.Step(int(src.taken.n), int(src.size))
}
