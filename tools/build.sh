#!/usr/bin/env bash
# Builds one preset (default release) with what is installed: tools/build.sh [PRESET] [TARGET...]
set -euo pipefail
cd "$(dirname "$0")/.."
preset=${1:-release}
shift || true
cmake --preset "$preset" -G Ninja >/dev/null
cmake --build --preset "$preset" -j "${BUILD_JOBS:-2}" ${1:+--target "$@"}
