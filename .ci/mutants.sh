#!/usr/bin/env bash
# Machine-made mutants of the core, killed by the hand-written cases of the
# corpus alone: gremlins changes an operator at a time in a copy of the module
# in which the tests of the core are replaced by one that runs the corpus.
# Only an answer that a case does not allow kills; a mutant that crashes, or
# cannot take up a line, lives. Prints what lived, and a table of the counts.
#
#   .ci/mutants.sh                        serviceorder, rally, format
#   .ci/mutants.sh serviceorder           one of them
#   MUTANTS_LOG=dir .ci/mutants.sh        keeps gremlins' own output there
#   MUTANTS_FILES="flow apply" …          only these files of the package
#   MUTANTS_WORKERS=1 …                   on a machine that others use too
set -euo pipefail
root=$(cd "$(dirname "$0")/.." && pwd)
packages=${*:-serviceorder rally format}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
log=${MUTANTS_LOG:-$work}
mkdir -p "$log"
GOFLAGS= GOWORK=off GOBIN=$work/bin go install github.com/go-gremlins/gremlins/cmd/gremlins@v0.6.0
(cd "$root" && go build -o "$work/bin/mutants" ./conformance/cmd/mutants)

copy=$work/module
mkdir "$copy"
cp -r "$root"/go.mod "$root"/go.sum "$root"/format "$root"/serviceorder "$root"/rally "$root"/conformance "$copy"
find "$copy" -name '*_test.go' -delete
rm -rf "$copy"/rally/{audit,explore,record,referee,walk} "$copy"/conformance/{cmd,digests,protocol} "$copy"/conformance/internal/{mutants,publish}
for package in format serviceorder rally; do
	cat >"$copy/$package/corpus_test.go" <<EOT
package ${package}_test

import (
	"testing"

	"github.com/evencourt/evencourt/conformance"
)

func TestCorpus(t *testing.T) {
	files, err := conformance.Load()
	if err != nil {
		t.Skip(err)
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
					t.Skip(err)
				}
				for _, id := range ids {
					if f := conformance.Run(engine, c, id); f != nil && f.Outcome == conformance.Wrong {
						t.Fatal(f)
					}
				}
			}
		}
	}
}
EOT
done

# Coverage has no blocks for the conditions of cases: they are added to every
# profile that gremlins has made.
mkdir "$work/shim"
cat >"$work/shim/go" <<EOT
#!/usr/bin/env bash
"$(command -v go)" "\$@" || exit
while [ \$# -gt 1 ]; do
	if [ "\$1" = -coverprofile ]; then exec "$work/bin/mutants" -reach "\$2"; fi
	shift
done
EOT
chmod +x "$work/shim/go"

export GOWORK=off GOFLAGS="-mod=mod -vet=off" # a mutant that vet finds odd is not killed by a case
cd "$copy"
for package in $packages; do
	case $package in
	serviceorder) files="order places serviceorder" ;;
	# what rules, and the line; the text of events, reading, logs, views and timing have their own tests
	rally) files="apply breaks call fold flow incident line penalties position repair ruled rules state" ;;
	format) files="format rulings shapes" ;;
	*) files=$(cd "$package" && ls -- *.go | sed 's/\.go$//') ;;
	esac
	files=${MUTANTS_FILES:-$files}
	exclude=()
	for file in "$package"/*.go; do
		name=$(basename "$file" .go)
		case " $files " in *" $name "*) ;; *) exclude+=(-E "(^|/)$name\\.go\$") ;; esac
	done
	mkdir -p "$log/source/$package"
	cp "$package"/*.go "$log/source/$package"
	echo "== $package"
	PATH=$work/shim:$PATH "$work/bin/gremlins" unleash "./$package" "${exclude[@]}" --workers "${MUTANTS_WORKERS:-2}" --timeout-coefficient 20 \
		--invert-logical --invert-bitwise --invert-loopctrl --invert-assignments --invert-bwassign --remove-self-assignments \
		--output "$log/$package.json" >"$log/$package.txt" 2>&1 || true
	grep -E 'LIVED|NOT COVERED|TIMED OUT' "$log/$package.txt" || true
done

printf '\n%-14s %7s %7s %10s %12s\n' package killed lived 'timed out' 'not covered'
for package in $packages; do
	count() { grep -c "^ *$1 " "$log/$package.txt" || true; }
	printf '%-14s %7s %7s %10s %12s\n' "$package" "$(count KILLED)" "$(count LIVED)" "$(count 'TIMED OUT')" "$(count 'NOT COVERED')"
done
