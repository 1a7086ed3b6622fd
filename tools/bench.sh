#!/usr/bin/env bash
# Builds and runs the benchmark with CVODE as reference: tools/bench.sh; with --guard only the ratios that CI watches,
# without CVODE.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/install_packages.sh
if [ "${1:-}" = --guard ]; then
  tools/build.sh release bowrise_bench
  exec build/release/bowrise_bench --guard
fi
dpkg-query -W -f='${db:Status-Status}' libsundials-dev 2>/dev/null | grep -qx installed ||
  { apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends libsundials-dev >/dev/null; }
cmake --preset release -B build/bench -G Ninja -DBOWRISE_CVODE=ON -DBOWRISE_TESTS=OFF >/dev/null
cmake --build build/bench -j "${BUILD_JOBS:-2}" --target bowrise_bench
build/bench/bowrise_bench
