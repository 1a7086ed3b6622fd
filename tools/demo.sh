#!/usr/bin/env bash
# Installs what is missing, builds the program, runs the demo launch and shows the result.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/install_packages.sh
tools/build.sh release bowrise_program
echo
build/release/bowrise run scenarios/supercharged_three_seat.yaml --out out/demo --force
echo
echo "In out/demo: trace.csv, summary.json, and scenario.yaml with every input filled in."
