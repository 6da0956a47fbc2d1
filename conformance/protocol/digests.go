package protocol

import (
	"errors"
	"fmt"

	"github.com/evencourt/evencourt/conformance"
	"github.com/evencourt/evencourt/conformance/digests"
)

// skippedError says that the engine does not play what it was asked.
type skippedError struct{ reason string }

// Error implements error.
func (e *skippedError) Error() string { return "skipped: " + e.reason }

// IsSkipped reports whether an error says that the engine does not play what it
// was asked.
func IsSkipped(err error) bool {
	var skipped *skippedError
	return errors.As(err, &skipped)
}

func (a answer) err() error {
	switch a.outcome {
	case conformance.Passed:
		return nil
	case conformance.Skipped:
		return &skippedError{a.reason}
	}
	return fmt.Errorf("%s: %s", a.outcome, a.reason)
}

// Digests computes the digests of the engine in a format, from its lines. If
// it has a tree command, that must give the same TREE.
func (c *Client) Digests(formatID string, p digests.Plan) (digests.Row, error) {
	root, err := c.Position(formatID)
	if err != nil {
		return digests.Row{}, err
	}
	row, err := digests.Digests(root, p)
	if err != nil || !c.Answers(TreeCommand) {
		return row, err
	}
	answerer, err := c.Answerer(formatID, p.Alphabet)
	if err != nil {
		return row, err
	}
	tree, err := answerer.Tree(nil, p.TreeDepth)
	if err == nil && tree != row.Tree {
		err = fmt.Errorf("format %s: the tree command says %s, its lines %s", formatID, tree, row.Tree)
	}
	return row, err
}
