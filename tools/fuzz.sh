#!/usr/bin/env bash
# Fuzzes the readers with libFuzzer: tools/fuzz.sh scenario|log [RUNS [SEED [LONGEST]]]. What it finds stays in out/fuzz.
set -euo pipefail
cd "$(dirname "$0")/.."
what=${1:?scenario or log}
runs=${2:-1000000}
seed=${3:-1}
longest=${4:-4096} # bytes of an input; short ones run faster
tools/install_packages.sh clang libclang-rt-14-dev
tools/build.sh fuzz "fuzz_$what"
seeds=(tests/fuzz/seeds_log)
[ "$what" = scenario ] && seeds=(scenarios tests/command/bad)
mkdir -p "out/fuzz/$what"
exec build/fuzz/tests/"fuzz_$what" -runs="$runs" -seed="$seed" -max_len="$longest" -timeout=10 -rss_limit_mb=1024 \
  -artifact_prefix=out/fuzz/ "out/fuzz/$what" "${seeds[@]}"
