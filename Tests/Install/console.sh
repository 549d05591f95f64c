#!/usr/bin/env bash
# Builds and installs all but plugin and window, as the README says, and looks at what lies there.
#   console.sh SOURCE
set -euo pipefail

source=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cmake -S "$source" --preset demo -B "$work/build" -DVALVE_LADDER_PLUGIN=OFF >"$work/configure.log" 2>&1 || { cat "$work/configure.log"; exit 1; }
cmake --build "$work/build" >"$work/build.log" 2>&1 || { tail -n 40 "$work/build.log"; exit 1; }
bash "$source/Tests/Install/tree.sh" "$source" "$work/build" OFF
