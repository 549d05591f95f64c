#!/usr/bin/env bash
# Makes the portable archive and looks at what lies in it: what each program and plugin asks for at its start is on every
# desktop, no symbol of a library that was linked in can be seen, and the unpacked tools work from any folder.
#   portable.sh SOURCE
# Needs the network at first. 77: it cannot be tried here, and why.
set -euo pipefail
export LC_ALL=C

source=$1
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
fail() {
    echo "$*" >&2
    exit 1
}
command -v dpkg-source >/dev/null || { echo "skipped: dpkg-dev is not installed"; exit 77; }
bash "$source/cmake/portable.sh" >"$work/build.log" 2>&1 || { tail -n 30 "$work/build.log"; fail "the archive could not be made"; }
archive=$(ls "$source"/build-portable/archive/*.tar.gz)
tar -xf "$archive" -C "$work"
place=$(ls -d "$work"/valve-ladder-*/)
echo "$(basename "$archive"): $(($(stat -c %s "$archive") / 1024)) kB"

# The C library, its loader and its parts; X11 and ALSA, for windows and sound.
everywhere='^(linux-vdso|ld-linux-x86-64|libc|libm|libpthread|libdl|librt|libX11|libxcb|libXau|libXdmcp|libbsd|libmd|libasound)\.so'
count=0
while IFS= read -r -d '' file; do
    readelf -h "$file" >/dev/null 2>&1 || continue
    count=$((count + 1))
    ldd "$file" >"$work/libraries"
    grep 'not found' "$work/libraries" && fail "$file asks for a library that is not there"
    needed=$(sed 's/^[[:space:]]*//; s/ .*//; s|.*/||' "$work/libraries" | sort -u)
    echo "$(basename "$file"): $(readelf -d "$file" | sed -n 's/.*(NEEDED).*\[\(.*\)\]/\1/p' | tr '\n' ' '), at least glibc $(
        readelf -W --version-info "$file" | grep -oE 'GLIBC_[0-9.]+' | sort -uV | tail -n 1 | sed 's/GLIBC_//')"
    others=$(grep -vE "$everywhere" <<<"$needed" || true)
    [ -z "$others" ] || fail "$file asks for" $others
    readelf -d "$file" | grep -E 'R(UN)?PATH' && fail "$file looks for libraries in a folder of the machine that it was built on"
    [[ $file == *.so ]] || continue
    seen=$(nm -D --defined-only "$file" | awk '{ print $3 }' | grep -E '^(sf_|sqlite3_|zip_|FLAC__|ov_|ogg_|png_|jpeg_|FT_|cairo_|_ZN3fmt|_ZNSt)' || true)
    [ -z "$seen" ] || fail "$file shows symbols of a library inside it:" $(head -n 5 <<<"$seen")
done < <(find "$place" -type f -print0)
[ "$count" -ge 4 ] || fail "only $count programs and plugins lie in the archive"

export XDG_DATA_HOME=$work/data VALVE_LADDER_LOG=
"$place/bin/valve-ladder" examples "$work/look-round" >/dev/null
"$place/bin/valve-ladder" assess "$work/look-round/one-rung.flac" -d "$work/look-round/one-rung.json" --keep --invented --player Ina >/dev/null 2>"$work/said"
[ ! -s "$work/said" ] || fail "beside its answer the console says:" "$(cat "$work/said")"
"$place/bin/valve-ladder" sheet -o "$work/daily.pdf" --bpm 60
"$place/bin/valve-ladder" log info
demo=$source/build-portable/valve-ladder-demo
"$demo" --plugin "$place/lib/vst3/Valve Ladder.vst3" --takes 1 --out "$work/session" >"$work/demo.log" || { cat "$work/demo.log"; fail "the plugin cannot be played"; }
[ -s "$work/session/log.sqlite" ] || fail "the plugin kept no take"
