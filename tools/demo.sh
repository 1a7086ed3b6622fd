#!/usr/bin/env bash
# Installs what is missing, builds the program, runs the demo launch and shows the result.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/install_packages.sh
tools/build.sh release bowrise_program
echo
build/release/bowrise run scenarios/supercharged_three_seat.yaml --out out/demo --force
echo
echo "The trace is in out/demo/trace.csv, the summary in out/demo/summary.json."
