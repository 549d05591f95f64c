#!/usr/bin/env bash
# The window driven by real key and mouse events on a display of its own: set-up, a take by MIDI, its result, side
# by side. Leaves pictures of each step.
#   by-hand.sh HOST CONSOLE-TOOL PICTURE-FOLDER
# Needs xvfb-run, openbox, xdotool and ImageMagick; exits with 77 (skipped) where they are missing.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/hand.sh"

host=$1 tool=$2 pictures=$3
need xvfb-run xdotool openbox import compare
on_display 1400x900 "$@"

folder=$(mktemp -d)
export VALVE_LADDER_LOG="$folder/log.sqlite"
cleanup() { kill ${running:-} ${manager:-} 2> /dev/null || true; rm -rf "$folder"; }
trap cleanup EXIT

mkdir -p "$pictures"
# This host has no transport: its player asked for the transport's keys to work in the window.
echo '{"ownTransportKeys": true}' > "$folder/screen.json"
start_manager
"$host" 400 > "$folder/said" 2>&1 &
running=$!
# The host says `note` for each that its guide plays.
guide_count() { grep -c '^note' "$folder/said" || true; }

until_holds 60 grep -q ready "$folder/said" || fail "the window did not open"
settled 20
window=$(largest "Window host") # the window manager places it where it likes
focus "$window"
header() { xdotool mousemove 640 90 click 1; } # nothing there but the keyboard's focus
header
picture hand-1-first-run

key s
picture hand-2-set-up
# The player's name, typed into its field; Return takes it.
xdotool mousemove --window "$window" 600 123 click --repeat 2 --delay 80 1
xdotool key ctrl+a
xdotool type --delay 40 "Hand"
key Return
picture hand-3-set-up-done
header

play_two_takes hand 20
show_places hand
expect_player "Hand"
