#!/usr/bin/env bash
# Compares the ctest labels of a build with the table in PROMISES.md.
#   Tests/promises.sh BUILD_FOLDER
# Ends with 1 and names them where a label has no line there, or a line no test.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
build=$1

told=$(sed -n 's/^| `\([a-z0-9-]*\)` |.*/\1/p' "$here/PROMISES.md" | sort)
# Tests of other presets and sizes (sanitizers, a bare Debian) are not in every build: what the lists name counts.
listed=$({ sed -n 's/^ *\([a-z0-9-]*\) ".*/\1/p' "$here/ShownBy.cmake"
           grep -rhoE 'LABELS "?[a-z0-9-]+' "$here" --include=CMakeLists.txt | sed 's/LABELS "*//'
           grep -oE 'APPEND labels [a-z0-9-]+' "$here/ShownBy.cmake" | sed 's/.* //'; } | sort -u)
run=$(cd "$build" && ctest --print-labels | sed -n 's/^  \([a-z0-9-]*\)$/\1/p' | sort -u)

fault=0
complain() { # WHAT, LABELS
    [[ -z $2 ]] && return
    echo "$1:" $2 >&2
    fault=1
}
complain "labels without a line in PROMISES.md" "$(comm -23 <(printf '%s\n%s\n' "$listed" "$run" | sort -u) <(echo "$told"))"
complain "lines of PROMISES.md without a label" "$(comm -13 <(echo "$listed") <(echo "$told"))"
complain "lines told twice" "$(uniq -d <<< "$told")"
exit $fault
