#!/usr/bin/env bash
# The README's table of shipped scenarios: PROGRAM=build/release/bowrise tools/scenario_table.sh NAME...
set -euo pipefail
cd "$(dirname "$0")/.."
echo '| scenario | 0-30 mph | top speed | rpm | cavitating |'
echo '|---|---|---|---|---|'
for name in "$@"; do
  "${PROGRAM:-build/release/bowrise}" run "scenarios/$name.yaml" | awk -v name="$name" '
    /^  0 to 30 mph/ { launch = $5 }
    /^  top speed/ { mph = $3; kmh = $5; rpm = $8 }
    /^  cavitation/ { match($0, /, [0-9.]+ s in all/); cavitating = substr($0, RSTART + 2, RLENGTH - 11) }
    END { printf "| `%s` | %s s | %s mph (%.0f km/h) | %s | %s s |\n", name, launch, mph, kmh, rpm, cavitating }'
done
