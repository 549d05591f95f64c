#!/usr/bin/env bash
# The window driven by real key and mouse events on a display of its own: set-up, a take by MIDI, its result, side
# by side. Leaves pictures of each step.
#   by-hand.sh HOST CONSOLE-TOOL PICTURE-FOLDER
# Needs xvfb-run, openbox, xdotool and ImageMagick's import; exits with 77 (skipped) where they are missing.
set -euo pipefail

host=$1 tool=$2 pictures=$3
for program in xvfb-run xdotool openbox import; do
    command -v "$program" > /dev/null || { echo "$program is not installed"; exit 77; }
done
if [[ -z ${BY_HAND_INSIDE:-} ]]; then
    export BY_HAND_INSIDE=1
    exec xvfb-run -a -s "-screen 0 1400x900x24" "$0" "$@"
fi

folder=$(mktemp -d)
export VALVE_LADDER_LOG="$folder/log.sqlite"
cleanup() { kill ${running:-} ${manager:-} 2> /dev/null || true; rm -rf "$folder"; }
trap cleanup EXIT

mkdir -p "$pictures"
# This host has no transport: its player asked for the transport's keys to work in the window.
echo '{"ownTransportKeys": true}' > "$folder/screen.json"
# JUCE asks for properties that only a window manager makes known to the display.
openbox > /dev/null 2>&1 &
manager=$!
sleep 1
"$host" 240 > "$folder/said" 2>&1 &
running=$!

picture() { import -window root "$pictures/hand-$1.png"; }
key() { xdotool key --delay 60 "$@"; sleep 0.4; }
fail() { picture failed; cat "$folder/said"; echo "$1"; exit 1; }

for _ in $(seq 150); do
    grep -q ready "$folder/said" && break
    sleep 0.2
done
grep -q ready "$folder/said" || fail "the window did not open"
sleep 2
xdotool mousemove 640 90 click 1 # the header: nothing there but the keyboard's focus
sleep 0.5
picture 1-first-run

key s
picture 2-set-up
# The player's name, typed into its field; Return takes it.
window=$(xdotool search --name "Window host" | tail -1) # the window manager places it where it likes
xdotool mousemove --window "$window" 600 123 click --repeat 2 --delay 80 1
xdotool key ctrl+a
xdotool type --delay 40 "Hand"
key Return
picture 3-set-up-done
xdotool mousemove 640 90 click 1

# Two takes, each cut short by stopping the clock.
for take in first second; do
    key 1
    key space
    sleep "${BY_HAND_SECONDS:-20}"
    picture "4-playing-$take"
    key space
    sleep 2
done
key 2
sleep 3
picture 5-landing
key 3
sleep 2
picture 6-stair
key b
sleep 2
picture 7-side-by-side
"$tool" log info | tee "$folder/info"
grep -q "Hand" "$folder/info" || fail "no take of the player named in the set-up came into the log"
