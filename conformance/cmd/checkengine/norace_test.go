//go:build !race

package main

// megabytes bounds the memory of the runner.
const megabytes = 64
