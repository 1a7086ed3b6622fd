#!/usr/bin/env bash
# Makes tools/validation.md, and the rows of it that stand in the README, out of what the tests find; with --check only
# tells whether both are up to date: tools/validation_table.sh [--check] [FOLDER OF THE TESTS]
set -euo pipefail
cd "$(dirname "$0")/.."
check=false
[ "${1:-}" = --check ] && check=true && shift
tests=${1:-build/release/tests}
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for program in test_models test_physics; do
  BOWRISE_VALIDATION=$work/rows "$tests/$program" "[published]" > "$work/said" || { cat "$work/said"; exit 1; }
done

# Rows of a mark, sorted, under the head of the table.
table() {  # PATTERN
  echo '| part: what, where, unit | published in | known by | published | ours | allowed | off by |'
  echo '|---|---|---|---|---|---|---|'
  LC_ALL=C sort -u "$work/rows" | sed -n "s/^$1|/|/p" | LC_ALL=C sort
}

# A file with the table between its two marks made anew.
filled() {  # FILE PATTERN
  table "$2" > "$work/table"
  sed -e "/<!-- validation -->/r $work/table" -e '/<!-- validation -->/,/<!-- end of validation -->/{/<!-- /!d}' "$1"
}

status=0
bring_up_to_date() {  # FILE PATTERN
  filled "$1" "$2" > "$work/new"
  if ! $check; then
    cp "$work/new" "$1"
  elif ! diff "$1" "$work/new"; then
    echo "$1 is not what the tests find: run tools/validation_table.sh"
    status=1
  fi
}
bring_up_to_date README.md headline
bring_up_to_date tools/validation.md '[a-z]*'
exit $status
