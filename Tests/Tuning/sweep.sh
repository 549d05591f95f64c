#!/usr/bin/env bash
# Fits one constant of the listening again: builds the listening with it at several values, and tallies a part that rules may
# be set on with each. What is best is for the reader to see; the header is left as it was.
#   Tests/Tuning/sweep.sh BUILD-FOLDER Source/Listening/GlideConstants.h maxResidual 0.025 0.035 0.05 -- --life room
# After -- stand options of `valveladder_tuning tally` (--part, --condition, --life, --size).
set -euo pipefail
build=$1 header=$2 name=$3
shift 3
values=()
while [ $# -gt 0 ] && [ "$1" != -- ]; do
    values+=("$1")
    shift
done
[ $# -eq 0 ] || shift
pattern="(constexpr [a-z:_ ]+ $name = )[^;]+;"
grep -qE "$pattern" "$header" || {
    echo "$header holds no constant $name" >&2
    exit 2
}
kept=$(mktemp)
cp "$header" "$kept"
trap 'cp "$kept" "$header"; rm -f "$kept"' EXIT
for value in "${values[@]}"; do
    sed -E "s/$pattern/\1$value;/" "$kept" >"$header"
    cmake --build "$build" --target valveladder_tuning >/dev/null
    echo "$name = $value"
    "$build/Tests/Tuning/valveladder_tuning" tally "$@" | grep -E '^\| all|^false'
done
