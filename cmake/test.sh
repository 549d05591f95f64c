#!/usr/bin/env bash
# Builds everything with warnings as errors and passes the tests. Further arguments go to ctest.
#   cmake/test.sh [CTEST ARGUMENT...]
# VALVE_LADDER_PRESET names another preset than release: debug, asan, tsan.
set -euo pipefail

preset=${VALVE_LADDER_PRESET:-release}
cd "$(dirname "${BASH_SOURCE[0]}")/.."
bash cmake/setup.sh cmake/packages.txt cmake/test-packages.txt
cmake --preset "$preset"
cmake --build --preset "$preset"
bash Tests/Outside/install.sh "build-$preset/outside"
ctest --preset "$preset" --parallel "$(nproc)" "$@"
