// Package peerpy holds an engine in Python ([engine.py]) that was written from
// the pages and the data of folder conformance alone, and the test that keeps it
// conformant. It shows how little an engine needs: formats.json, LINE.md,
// FORMATS.md and PROTOCOL.md, and no Go.
//
// [engine.py]: engine.py
package peerpy
