#!/usr/bin/env bash
# Runs every study on four threads under the thread sanitizer, which ends the first one that has a race.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/install_packages.sh
tools/build.sh tsan bowrise_program
pages=$(mktemp -d)
trap 'rm -rf "$pages"' EXIT
demo=scenarios/supercharged_three_seat.yaml

study() {
  echo "  $1"
  TSAN_OPTIONS=halt_on_error=1 "${BOWRISE:-build/tsan/bowrise}" "$@" --threads 4 >/dev/null
}

study run "$demo" --band 16
study compare "$demo" scenarios/two_stage.yaml --band 16 --over engine.peak_power=200..300hp:3
study match scenarios/larger_cone.yaml --until top_rpm=7680rpm
study sweep "$demo" --vary impeller.pitch_trailing=24..26deg:8 --vary nozzle.exit_diameter=82..90mm:8 \
  --sensitivity 8 --out "$pages/sweep"
study throttle "$demo" --html "$pages/throttle.html"
study wear "$demo" --launches 100 --band 4 --html "$pages/wear.html"
study diagnose "$demo" --seen top_speed=60mph --seen coast_down_distance=90m --band 4
study fit "$demo" --seen top_speed=68mph --band 8
study report "$demo" scenarios/two_stage.yaml --out "$pages/report.html"
echo "no race"
