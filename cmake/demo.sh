#!/usr/bin/env bash
# Runs the main job: builds the plugin, hosts it without a window, plays a short invented practice session through it
# and leaves log, guide, tempo map and report in a folder (default: demo-session beside this checkout's files).
#   cmake/demo.sh [FOLDER]
set -euo pipefail

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
folder=${1:-$top/demo-session}
cd "$top"
bash cmake/setup.sh cmake/packages.txt
cmake --preset demo
cmake --build --preset demo
build-demo/valve-ladder-demo --plugin "$(ls -d build-demo/ValveLadder_artefacts/*/VST3/*.vst3)" --out "$folder"
