#!/usr/bin/env bash
# The first minute of a player who has never seen the program: the Standalone from an empty home to a heard take and
# its result, by real key and mouse events on a display of the size given, in at most six actions. Sound and MIDI come
# by a JACK server without a device. The player is a sequencer that plays the first rung over and over by MIDI, in its own
# time, or tones at the microphone, which play along with the guide, a block of the server's behind it.
# Each key and click is an action, and they are counted.
# The click is heard at the program's output, at the sample of its MIDI.
#   first-minute.sh STANDALONE CONSOLE-TOOL EAR PICTURE-FOLDER WIDTHxHEIGHT midi|sound
# Needs jackd, xvfb-run, openbox, xdotool and ImageMagick's import; exits with 77 (skipped) where they are missing.
set -euo pipefail

source "$(dirname "${BASH_SOURCE[0]}")/hand.sh"

standalone=$1 tool=$2 ear_program=$3 pictures=$4 size=$5 by=$6
prepare_standalone "$size" "$@"

actions=0
key() { actions=$((actions + 1)); xdotool key --delay 60 "$@"; }
open_standalone
# A frame's width and title are counted twice in X and Y of a window that the manager has put into one.
X=$((X - 1)) Y=$((Y - 23))
echo "the window: $WIDTH by $HEIGHT at $X, $Y"
((WIDTH <= ${size%x*} && HEIGHT <= ${size#*x})) || fail "the window, $WIDTH by $HEIGHT, is larger than its display"
((X >= 0 && Y >= 0 && X + WIDTH <= ${size%x*} && Y + HEIGHT <= ${size#*x})) ||
    fail "the window at $X, $Y reaches beyond its display"
[[ $by == sound ]] || start_player
start_monitor
start_ear "$ear_program"
[[ $by == midi ]] || until_holds 20 play_tones || fail "the program has no microphone on the JACK server"
settled 5
picture "first-minute-$size-1-first-steps"

key Tab # the first choice of the page: one that a player need not make
settled 5
picture "first-minute-$size-2-choice"
# Start, the large button at the right foot of the page.
actions=$((actions + 1))
xdotool mousemove --window "$window" $((WIDTH - 48 - 100)) $((HEIGHT - 64 - 70)) click 1
until_holds 120 guide_has 30 || fail "the guide does not play after Start"
# In the count-in the starting pitch lies over the click: these come after it.
until_holds 120 clicks_run 8 60 10 || fail "the click is not heard at its sample: $(click_run 60 10), $(tail -40 "$folder/ear")"
echo "$(click_run 60 10) clicks heard at the sample of their MIDI, which tells them a block later"
picture "first-minute-$size-3-playing"
tabs playing
key space # stops: the take ends there and its result opens by itself
until_holds 60 takes_kept 1 || fail "no take was heard"
until_holds 60 place_left playing || fail "the result did not open by itself"
settled 20
"$tool" take show 1 --json > "$folder/take"
grep -q "\"source\": *\"$by\"" "$folder/take" || fail "the take was not heard by $by"
picture "first-minute-$size-4-result"
tabs opened
xdotool key --delay 60 2 # not an action of the player: where this key leads, we must be already
settled 20
tabs result
alike opened result || fail "another place than the result opened by itself"
"$tool" log info
kill "$running"
wait "$running" || true
((actions <= 6)) || fail "it took $actions actions"
echo "a heard take and its result in $actions actions"
