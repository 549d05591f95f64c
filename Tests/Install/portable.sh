#!/usr/bin/env bash
# Makes the portable archive and unpacks it: the plugin needs nothing but what every desktop Linux has, plays in a host,
# and the console runs.
#   portable.sh SOURCE DEMO_HOST
set -euo pipefail

source=$1
demo=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
bash "$source/cmake/portable.sh" "$work" >"$work/log" 2>&1 || {
    tail -n 20 "$work/log"
    grep -q "Failed to fetch\|Could not resolve" "$work/log" && { echo "skipped: Debian's sources cannot be had here"; exit 77; }
    exit 1
}
tar xf "$work"/*.tar.gz -C "$work"
top=$(dirname "$(dirname "$(find "$work" -path '*/bin/valve-ladder')")")

desktop="libc.so.6 libm.so.6 libX11.so.6 libasound.so.2 ld-linux-x86-64.so.2"
fault=0
needs_only() { # FILE ALLOWED...
    local file=$1 need
    shift
    for need in $(objdump -p "$file" | sed -n 's/^ *NEEDED *//p'); do
        [[ " $* " == *" $need "* ]] || { echo "${file#"$top/"} needs $need" >&2; fault=1; }
    done
    ldd "$file" | grep "not found" && fault=1
    true
}
for file in "$top/lib/vst3/Valve Ladder.vst3/Contents/x86_64-linux/Valve Ladder.so" "$top"/lib/lv2/*/*.so \
    "$top/bin/valve-ladder-standalone"; do
    needs_only "$file" $desktop
done
needs_only "$top/bin/valve-ladder" $desktop libcairo.so.2 libfreetype.so.6

cd "$work"
"$demo" --plugin "$top/lib/vst3/Valve Ladder.vst3" --takes 1 --out session >demo.log || { cat demo.log; exit 1; }
[ -s session/log.sqlite ] || { echo "the plugin kept no take"; exit 1; }
"$top/bin/valve-ladder" examples look-round
"$top/bin/valve-ladder" assess look-round/one-rung.flac -d look-round/one-rung.json >/dev/null
ls -l "$work"/*.tar.gz
exit $fault
