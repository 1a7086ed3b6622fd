#!/usr/bin/env bash
# Installs what is missing, builds everything and runs every test: tools/test.sh [PRESET [CTEST OPTION...]]
set -euo pipefail
cd "$(dirname "$0")/.."
preset=${1:-release}
tools/install_packages.sh
tools/build.sh "$preset"
ctest --preset "$preset" -j 2 "${@:2}"
