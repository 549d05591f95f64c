#!/usr/bin/env bash
# The program for Windows under Wine: its window comes up with something in it, and its picture is kept in the build folder.
#   window.sh BUILD
source "$(dirname "${BASH_SOURCE[0]}")/wine.bash" "$1"
program=$(find "$build/ValveLadder_artefacts" -name '*.exe' -path '*Standalone*' | head -n 1)
needs "$program"
for needed in xvfb-run import identify; do command -v $needed >/dev/null || { echo "skipped: $needed is not installed"; exit 77; }; done
export program wineserver picture=$build/window.png
# Its window is there when what the screen shows has many colours; a bare screen, or an empty window, has few.
xvfb-run -a -s "-screen 0 1280x900x24" bash -c '
    wine "$program" & pid=$!
    colours=0
    for try in $(seq 60); do
        sleep 1
        import -window root "$picture"
        colours=$(identify -format %k "$picture")
        [ "$colours" -ge 200 ] && break
    done
    kill $pid
    "$wineserver" -k || true
    echo "the window shows $colours colours: $picture"
    [ "$colours" -ge 200 ]'
