#!/usr/bin/env bash
# Runs a program on a display of its own, with a window manager: JUCE asks for properties that only one makes known.
#   on-display.sh PROGRAM [ARGUMENTS]
set -uo pipefail

if [[ -z ${ON_DISPLAY:-} ]]; then
    export ON_DISPLAY=1
    exec xvfb-run -a -s "-screen 0 1400x960x24" "$0" "$@"
fi
ready=$(mktemp -u)
openbox --startup "touch $ready" > /dev/null 2>&1 & # touched when it manages the display
manager=$!
for _ in $(seq 600); do
    [[ -e $ready ]] && break
    sleep 0.1
done
rm -f "$ready"
"$@"
status=$?
kill "$manager"
exit "$status"
