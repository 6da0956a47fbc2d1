//go:build race

package main

// megabytes bounds the memory of the runner; the race detector multiplies it.
const megabytes = 640
