#!/usr/bin/env bash
# The first minute of a player who has never seen the program: the Standalone from an empty home to a heard take and
# its result, by real key and mouse events on a display of the size given, in at most six actions. Sound and MIDI come
# by a JACK server without a device; a sequencer plays the first rung over and over as the player, in its own time.
# Each key and click is an action, and they are counted.
#   first-minute.sh STANDALONE CONSOLE-TOOL PICTURE-FOLDER WIDTHxHEIGHT
# Needs jackd, xvfb-run, openbox, xdotool and ImageMagick's import; exits with 77 (skipped) where they are missing.
set -euo pipefail

source "$(dirname "${BASH_SOURCE[0]}")/hand.sh"

standalone=$1 tool=$2 pictures=$3 size=$4
need jackd jack_connect jack_lsp jack_midiseq jack_midi_dump xvfb-run xdotool openbox import compare
[[ -x $standalone ]] || { echo "$standalone is not built"; exit 77; }
if [[ -z ${BY_HAND_INSIDE:-} ]]; then
    export BY_HAND_INSIDE=1
    exec xvfb-run -a -s "-screen 0 ${size}x24" "$0" "$@"
fi

folder=$(mktemp -d)
export HOME="$folder" VALVE_LADDER_LOG="$folder/log.sqlite"
cleanup() {
    stop_jack ${heard:-} ${player:-} ${running:-}
    kill ${manager:-} 2> /dev/null || true
    rm -rf "$folder"
}
trap cleanup EXIT
mkdir -p "$pictures"

actions=0
key() { actions=$((actions + 1)); xdotool key --delay 60 "$@"; }
start_jack
start_manager
"$standalone" > "$folder/said" 2>&1 &
running=$!
until_holds 60 xdotool search --onlyvisible --name '^Valve Ladder$' || fail "the window did not open"
settled 20
window=$(largest '^Valve Ladder$')
eval "$(xdotool getwindowgeometry --shell "$window")" # X Y WIDTH HEIGHT
# A frame's width and title are counted twice in X and Y of a window that the manager has put into one.
X=$((X - 1)) Y=$((Y - 23))
echo "the window: $WIDTH by $HEIGHT at $X, $Y"
((WIDTH <= ${size%x*} && HEIGHT <= ${size#*x})) || fail "the window, $WIDTH by $HEIGHT, is larger than its display"
((X >= 0 && Y >= 0 && X + WIDTH <= ${size%x*} && Y + HEIGHT <= ${size#*x})) ||
    fail "the window at $X, $Y reaches beyond its display"
start_player
start_monitor
settled 5
picture "first-minute-$size-1-first-steps"

key Tab # the first choice of the page: one that a player need not make
settled 5
picture "first-minute-$size-2-choice"
# Start, the large button at the right foot of the page.
actions=$((actions + 1))
xdotool mousemove --window "$window" $((WIDTH - 48 - 100)) $((HEIGHT - 64 - 70)) click 1
until_holds 120 guide_has 30 || fail "the guide does not play after Start"
picture "first-minute-$size-3-playing"
key space # stops: the take ends there and its result opens by itself
until_holds 60 takes_kept 1 || fail "no take was heard"
settled 20
picture "first-minute-$size-4-result"
"$tool" log info
kill "$running"
wait "$running" || true
((actions <= 6)) || fail "it took $actions actions"
echo "a heard take and its result in $actions actions"
