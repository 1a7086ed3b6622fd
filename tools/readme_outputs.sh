#!/usr/bin/env bash
# Makes the outputs that the README shows anew; with --check only tells whether they are up to date:
# tools/readme_outputs.sh [--check] [PROGRAM]
# An output stands between the line "<!-- shown: PIPELINE -->" that makes it and "<!-- end -->". Pipelines end in `shown`.
set -euo pipefail
cd "$(dirname "$0")/.."
check=false
[ "${1:-}" = --check ] && check=true && shift
export PROGRAM=${1:-build/release/bowrise}
bowrise() { "$PROGRAM" "$@"; }
shown() {  # what comes in, as a block of text without the cautions; with "whole" all of it
  local text
  text=$([ "${1:-}" = whole ] && cat || sed -e '/^  A prediction is not/,$d' -e 's/ *$//')
  printf '```text\n%s\n```\n' "$text"
}
export -f bowrise shown
export SHOWN_FOLDER=$(mktemp -d)  # for what a command must write
trap 'rm -rf "$SHOWN_FOLDER"' EXIT
new=$SHOWN_FOLDER/README.md

keep=true
while IFS= read -r line; do
  [ "$line" = '<!-- end -->' ] && keep=true
  $keep && printf '%s\n' "$line"
  if [[ $line == '<!-- shown: '*' -->' ]]; then
    keep=false
    command=${line#<!-- shown: }
    bash -euo pipefail -c "${command% -->}" < /dev/null
  fi
done < README.md > "$new"

if $check; then
  diff README.md "$new" || { echo 'the README shows other outputs than the program: run tools/readme_outputs.sh'; exit 1; }
else
  cat "$new" > README.md
fi
