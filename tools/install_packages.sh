#!/usr/bin/env bash
# Installs what bowrise needs to be built and tested on Debian 12, as root, from the distribution's packages alone, and
# any packages named besides: tools/install_packages.sh [PACKAGE...]
set -euo pipefail

packages=(
  g++ cmake ninja-build                # build
  libboost-dev libeigen3-dev           # integrators, root finding; linear algebra
  libyaml-cpp-dev libcli11-dev         # scenarios; command line
  nlohmann-json3-dev libfmt-dev        # JSON out; text formatting
  libnlopt-dev libnlopt-cxx-dev        # derivative-free search
  libjs-dygraphs                       # charts of the report page
  catch2                               # tests
  chromium                             # shows the pages to a real browser, in tests
  clang-format                         # tools/format.sh
)

missing=()
for package in "${packages[@]}" "$@"; do
  dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null | grep -qx installed || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0

if [ "$(id -u)" -ne 0 ]; then
  echo "these packages are missing; install them as root: ${missing[*]}" >&2
  exit 1
fi
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq
apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
