package format

import "sync/atomic"

// once holds what is worked out when it is first asked for. Two that ask at the
// same time may both work it out, alike. Package sync would do it once, at the
// price of four kilobytes in a browser build.
type once[T any] struct {
	made atomic.Pointer[T]
	make func() T
}

func (o *once[T]) get() T {
	if made := o.made.Load(); made != nil {
		return *made
	}
	made := o.make()
	o.made.Store(&made)
	return made
}
