package conformance_test

import (
	"testing"

	"github.com/evencourt/evencourt/conformance"
)

// The library's own engine passes every case of its own corpus.
func TestOwnEngine(t *testing.T) { conformance.Test(t, new(conformance.Own)) }
