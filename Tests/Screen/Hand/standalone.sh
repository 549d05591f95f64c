#!/usr/bin/env bash
# The Standalone driven by real key and mouse events on a display of its own: set-up, two takes by MIDI, their
# result, side by side. Sound and MIDI come by a JACK server without a device; a sequencer plays the first rung over
# and over as the player, in its own time. Leaves pictures of each step.
#   standalone.sh STANDALONE CONSOLE-TOOL PICTURE-FOLDER
# Needs jackd, xvfb-run, openbox, xdotool and ImageMagick; exits with 77 (skipped) where they are missing.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/hand.sh"

standalone=$1 tool=$2 pictures=$3
prepare_standalone 1400x960 "$@"

open_standalone
focus "$window"
start_player
start_monitor

# Points of the plugin's window, which lies at the foot of the program's: x from its left, y from its top.
at() { xdotool mousemove --window "$window" "$1" $((HEIGHT - 800 + $2)); }
picture standalone-0-window
at 640 82 && xdotool click 1 # the header: nothing there but the keyboard's focus
picture standalone-1-first-run

key s
picture standalone-2-set-up
at 600 121 && xdotool click --repeat 2 --delay 80 1 # the player's name
xdotool key ctrl+a
xdotool type --delay 40 "Hand"
key Return
picture standalone-3-set-up-done
at 640 28 && xdotool click 1 # the bar between the buttons, so that keys no longer go into the field

play_two_takes standalone 40
show_places standalone
kill "$running"
wait "$running" || true
expect_player "Hand"
