#!/usr/bin/env bash
# Draws scenarios/demo.svg, the picture of the README: charts taken out of the report of three shipped scenarios.
set -euo pipefail
cd "$(dirname "$0")/.."
program=${1:-build/release/bowrise}
page=$(mktemp)
trap 'rm -f "$page"' EXIT
"$program" report scenarios/supercharged_three_seat.yaml scenarios/two_stage.yaml scenarios/worn_ring.yaml \
  --out "$page" --quiet

# The drawing of one chart, placed.
chart() {  # ID X Y
  sed -n "/<figure id=\"$1\">/,/<\/figure>/p" "$page" | tr -d '\n' | sed 's/.*<div class="still">\(<svg.*<\/svg>\)<\/div>.*/\1/' |
    sed "s/<svg class=\"chart\"/<svg class=\"chart\" x=\"$2\" y=\"$3\" width=\"400\" height=\"250\"/"
}

{
  echo '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 820 312" font-family="sans-serif" font-size="13">'
  echo '<title>Three setups of the demo craft: speed and suction head against time</title>'
  echo '<style>.grid{stroke:#ccc;stroke-width:.7}.frame{fill:none;stroke:#000}.span{fill:#ffd9b0;fill-opacity:.55}.level{stroke-width:1.2;stroke-dasharray:1 3}</style>'
  echo '<rect width="820" height="312" fill="#fff"/>'
  echo '<text x="10" y="20">A solid: demo craft. B dashed: two-stage impeller. C dash-dotted: worn ring.</text>'
  place=0
  for one in "speed:Speed" "suction:Suction head: thick available, thin required"; do
    x=$((place % 2 * 410 + 5)) y=$((place / 2 * 277 + 30)) place=$((place + 1))
    echo "<text x=\"$((x + 46))\" y=\"$((y + 14))\" font-weight=\"bold\">${one#*:}</text>"
    chart "${one%%:*}" "$x" "$((y + 16))"
    echo
  done
  echo '</svg>'
} > scenarios/demo.svg
