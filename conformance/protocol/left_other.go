//go:build !linux

package protocol

func leftBehind(string) []string { return nil }
