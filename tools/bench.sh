#!/usr/bin/env bash
# Builds and runs the benchmark with CVODE as reference: tools/bench.sh; with --guard only the ratios that CI watches,
# without CVODE.
set -euo pipefail
cd "$(dirname "$0")/.."
if [ "${1:-}" = --guard ]; then
  tools/install_packages.sh
  tools/build.sh release bowrise_bench
  exec build/release/bowrise_bench --guard
fi
tools/install_packages.sh libsundials-dev
cmake --preset release -B build/bench -G Ninja -DBOWRISE_CVODE=ON -DBOWRISE_TESTS=OFF >/dev/null
cmake --build build/bench -j "${BUILD_JOBS:-2}" --target bowrise_bench
build/bench/bowrise_bench
