#!/usr/bin/env bash
# The package for JavaScript: its tests, in Chromium too where there is one, and its sizes. Says so and ends well without Node.
set -euo pipefail
cd "$(dirname "$0")"
if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
	echo "SKIPPED, the package for JavaScript was not tested: no Node here"
	exit 0
fi
if [ ! -d node_modules/terser ] || [ package-lock.json -nt node_modules/.package-lock.json ]; then
	npm ci --no-audit --no-fund --silent || {
		echo "SKIPPED, the package for JavaScript was not tested: its tools could not be installed"
		exit 0
	}
fi
npm test
npm run --silent test:browser
npm run --silent size
