#!/usr/bin/env bash
# What guards the corpus from outside Go: the schemas by a validator of others,
# the engine in JavaScript against the corpus and against the published
# digests. Exits with 0 only if all of it holds. "check.sh all" recomputes every
# published row that the engine plays, which takes some minutes.
set -euo pipefail
cd "$(dirname "$0")"
root=$(cd ../.. && pwd)
peer=$root/examples/peer-js
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
	echo "SKIPPED, the engine in JavaScript and the schemas were not tested: no Node here"
	exit 0
fi
if [ ! -d node_modules/ajv ] || [ package-lock.json -nt node_modules/.package-lock.json ]; then
	npm ci --no-audit --no-fund --silent || {
		echo "SKIPPED, the engine in JavaScript and the schemas were not tested: its tools could not be installed"
		exit 0
	}
fi
cd "$root"
go build -o "$work/checkengine" ./conformance/cmd/checkengine
go build -o "$work/evencourt" ./conformance/cmd/evencourt

echo "the engine in JavaScript against the corpus"
"$work/checkengine" -quiet -strict -timeout 60s -json "$work/peer.json" -record "$work/peer.jsonl" -- node "$peer/engine.js"

echo "the library's engine against the corpus, over the protocol"
"$work/checkengine" -quiet -strict -timeout 60s -json "$work/own.json" -record "$work/own.jsonl" -write-expected "$work/expected.json" -- "$work/evencourt" | tail -n 1

echo "the skeleton of the README"
"$work/checkengine" -quiet -strict -timeout 60s -- node conformance/skeleton.js | tail -n 1

echo "schemas"
node "$peer/validate.js" --report "$work/peer.json" --report "$work/own.json" --expected "$work/expected.json" \
	--dialogue "$work/peer.jsonl" --dialogue "$work/own.jsonl"

echo "digests"
formats=sideout-singles-11@2026,sideout-doubles-11@2026,rally-singles-11@2025,rally-singles-11@2026,rally-doubles-11@2025,rally-doubles-11@2026
formats+=,rally-doubles-11-of3@2026,fixed-doubles-21@2026,fixed-doubles-21-win-on-serve@2026,fixed-doubles-21-each-at-point@2026
formats+=,fixed-doubles-21-leader-and-trailer@2026,fixed-doubles-21-both-at-point@2026,fixed-doubles-25-win-on-serve@2026
[ "${1:-}" = all ] && formats=
"$work/checkengine" -timeout 600s -digests -format "$formats" -- node "$peer/engine.js"

echo "both engines on every sequence of up to 64 rallies"
"$work/checkengine" -timeout 600s -diff -format sideout-doubles-11@2026,rally-doubles-15@2025,fixed-doubles-21-leader-and-trailer@2026 \
	-- "$work/evencourt" -- node "$peer/engine.js"
