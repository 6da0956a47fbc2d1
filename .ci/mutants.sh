#!/usr/bin/env bash
# Machine-made mutants of the core, killed by the hand-written cases of the
# corpus alone: gremlins changes an operator at a time in a copy of the module
# in which the tests of the core are replaced by one that runs the corpus.
# A mutant that only crashes is not counted as killed by a case. Prints killed,
# lived, not covered and timed out by package, and lists those that lived.
#
#   .ci/mutants.sh                    serviceorder, the ruling files of rally, format
#   .ci/mutants.sh serviceorder       one of them
#   MUTANTS_LOG=dir .ci/mutants.sh    keeps gremlins' own output there
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
packages=${*:-serviceorder rally format}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
log=${MUTANTS_LOG:-$work}
mkdir -p "$log"
GOFLAGS= GOWORK=off GOBIN=$work/bin go install github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0

copy=$work/module
mkdir "$copy"
cp -r "$root"/go.mod "$root"/go.sum "$root"/format "$root"/serviceorder "$root"/rally "$root"/conformance "$copy"
find "$copy" -name '*_test.go' -delete
rm -rf "$copy"/rally/{audit,explore,record,referee,walk} "$copy"/conformance/{cmd,digests,protocol,mutants,clauses}
for package in format serviceorder rally; do
	cat >"$copy/$package/corpus_test.go" <<EOF
package ${package}_test

import (
	"testing"

	"github.com/evencourt/evencourt/conformance"
)

func TestCorpus(t *testing.T) {
	files, err := conformance.Load()
	if err != nil {
		t.Fatal(err)
	}
	engine := new(conformance.Own)
	for i := range files {
		for _, c := range files[i].Cases {
			if c.Generated {
				continue
			}
			for _, entry := range c.Formats {
				ids, err := conformance.Expand(entry)
				if err != nil {
					t.Fatal(err)
				}
				for _, id := range ids {
					if f := conformance.Run(engine, c, id); f != nil && f.Outcome != conformance.Crashed {
						t.Fatal(f)
					}
				}
			}
		}
	}
}
EOF
done

export GOWORK=off GOFLAGS=-mod=mod
cd "$copy"
for package in $packages; do
	exclude=()
	if [ "$package" = rally ]; then # the files that rule; lines, logs and views are for their own tests
		for file in rally/*.go; do
			case ${file#rally/} in
			apply.go | flow.go | penalties.go | incident.go | breaks.go) ;;
			*) exclude+=(-E "$(basename "$file" .go)\\.go\$") ;;
			esac
		done
	elif [ "$package" = format ]; then
		for file in edition names origin switches text; do exclude+=(-E "$file\\.go\$"); done
	fi
	echo "== $package"
	"$work/bin/gremlins" unleash "./$package" "${exclude[@]}" --workers "${MUTANTS_WORKERS:-2}" --timeout-coefficient 20 \
		--invert-logical --invert-bitwise --invert-loopctrl --output "$log/$package.json" >"$log/$package.txt" 2>&1 || true
	grep -E 'LIVED|NOT COVERED|TIMED OUT' "$log/$package.txt" || true
	tail -n 6 "$log/$package.txt"
done
