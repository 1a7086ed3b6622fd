#!/usr/bin/env bash
# Formats the sources; with --check only tells whether they are formatted.
set -euo pipefail
cd "$(dirname "$0")/.."
mode=(-i)
[ "${1:-}" = --check ] && mode=(--dry-run --Werror)
git ls-files -co --exclude-standard '*.cpp' '*.hpp' | xargs clang-format "${mode[@]}"
