# For the tests of a build for Windows: Wine with a machine of its own in the build folder.
#   source wine.bash BUILD
set -euo pipefail
command -v wine >/dev/null || { echo "skipped: wine is not installed"; exit 77; }
build=$1
mkdir -p "$build/wine"
export WINEPREFIX=$build/wine WINEDEBUG=-all WINEDLLOVERRIDES=winemenubuilder.exe=d TZ=Europe/Berlin LC_ALL=C.UTF-8
unset DISPLAY # what needs no window gets none
work=$(mktemp -d)
wineserver=$(command -v wineserver || echo /usr/lib/wine/wineserver64)
"$wineserver" -k || true # what a run that was stopped left
"$wineserver" -p # one server for all that follows, or one that ends meets one that begins
trap '"$wineserver" -k || true; rm -rf "$work"' EXIT
fail() {
    echo "$*" >&2
    exit 1
}
needs() { [ -e "$1" ] || { echo "skipped: $1 has not been built"; exit 77; }; }
winpath() { wine winepath -w "$1" 2>/dev/null | tr -d '\r'; }
