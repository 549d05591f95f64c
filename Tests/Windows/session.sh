#!/usr/bin/env bash
# The VST3 for Windows in the demo host, under Wine: an invented session is played through it and logged.
#   session.sh BUILD
source "$(dirname "${BASH_SOURCE[0]}")/wine.bash" "$1"
needs "$build/valve-ladder-demo.exe"
plugin=$(find "$build/ValveLadder_artefacts" -type d -name '*.vst3' | head -n 1)
needs "$plugin"
mkdir "$work/Sitzung Ж"
xvfb-run -a -s "-screen 0 1280x800x24" wine "$build/valve-ladder-demo.exe" --plugin "$(winpath "$plugin")" --takes 3 \
    --out "$(winpath "$work/Sitzung Ж")\\s" >"$work/said" 2>&1 || { tail -n 30 "$work/said"; fail "the session was not played"; }
for file in log.sqlite take.svg practice-sheet.pdf guide.mid report.txt; do
    [ -s "$work/Sitzung Ж/s/$file" ] || fail "$file is not there"
done
wine "$build/valve-ladder.exe" log info --log "$(winpath "$work/Sitzung Ж/s")\\log.sqlite"
cat "$work/Sitzung Ж/s/report.txt"
