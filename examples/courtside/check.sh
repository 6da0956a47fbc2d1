#!/usr/bin/env bash
# The page a referee holds, in Chromium. Says so and ends well without Node or Chromium.
set -euo pipefail
cd "$(dirname "$0")"
if ! command -v node >/dev/null || ! command -v npm >/dev/null; then
	echo "SKIPPED, the page was not tested in a browser: no Node here"
	exit 0
fi
if [ ! -d node_modules/axe-core ] || [ package-lock.json -nt node_modules/.package-lock.json ]; then
	npm ci --no-audit --no-fund --silent || {
		echo "SKIPPED, the page was not tested in a browser: its tools could not be installed"
		exit 0
	}
fi
npm run --silent test:parts
npm run --silent test:browser
