#!/usr/bin/env bash
# Compares what the rooms of Source/ include of one another with the table of rooms in DEVELOPERS.md.
#   Tests/borders.sh SOURCE_FOLDER
# Ends with 1 and says what and where, where a room uses one that its line does not name or that does not stand above
# it, where a line names one that is not used, and where a folder has no line or a line no folder.
set -euo pipefail

cd "$1"
fault=0
complain() {
    echo "$1" >&2
    fault=1
}

table=$(sed -n '/^| room | holds | uses |/,/^$/p' DEVELOPERS.md | sed '1,2d')
above=" "
while IFS='|' read -r _ room _ uses _; do
    room=${room// /}
    [[ -z $room ]] && continue
    if [[ ! -d Source/$room ]]; then
        complain "DEVELOPERS.md has a line for $room, and there is no Source/$room"
        continue
    fi
    told=$(tr -d ' ' <<< "$uses" | tr ',' '\n' | grep -vx std | sort || true)
    used=$(cat "Source/$room"/* | sed -n 's,^#include "\([A-Za-z0-9]*\)/.*,\1,p' | grep -vx "$room" | sort -u || true)
    for other in $used; do
        [[ $above == *" $other "* ]] ||
            complain "$room includes $other, which does not stand above it: $(grep -l "#include \"$other/" "Source/$room"/* | tr '\n' ' ')"
        grep -qx "$other" <<< "$told" ||
            complain "$room includes $other, which its line in DEVELOPERS.md does not name: $(grep -l "#include \"$other/" "Source/$room"/* | tr '\n' ' ')"
    done
    for other in $told; do
        grep -qx "$other" <<< "$used" || complain "$room's line in DEVELOPERS.md names $other, which it does not include"
    done
    above+="$room "
done <<< "$table"
for folder in Source/*/; do
    room=$(basename "$folder")
    [[ $above == *" $room "* ]] || complain "Source/$room has no line in DEVELOPERS.md"
done
exit $fault
