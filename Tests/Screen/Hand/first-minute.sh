#!/usr/bin/env bash
# The first minute of a player who has never seen the program: the Standalone from an empty home to a heard take and
# its result, by real key and mouse events on a display of the size given, in at most six actions. Sound and MIDI come
# by a JACK server without a device; a sequencer plays the first rung over and over as the player, in its own time.
# Each key and click is an action, and they are counted.
#   first-minute.sh STANDALONE CONSOLE-TOOL PICTURE-FOLDER WIDTHxHEIGHT
# Needs jackd, xvfb-run, openbox, xdotool and ImageMagick's import; exits with 77 (skipped) where they are missing.
set -euo pipefail

standalone=$1 tool=$2 pictures=$3 size=$4
for program in jackd jack_connect jack_lsp jack_midiseq xvfb-run xdotool openbox import; do
    command -v "$program" > /dev/null || { echo "$program is not installed"; exit 77; }
done
[[ -x $standalone ]] || { echo "$standalone is not built"; exit 77; }
if [[ -z ${BY_HAND_INSIDE:-} ]]; then
    export BY_HAND_INSIDE=1
    exec xvfb-run -a -s "-screen 0 ${size}x24" "$0" "$@"
fi

folder=$(mktemp -d)
export HOME="$folder" VALVE_LADDER_LOG="$folder/log.sqlite" JACK_DEFAULT_SERVER="valve-ladder-$$"
export JACK_NO_AUDIO_RESERVATION=1
cleanup() {
    kill ${running:-} ${manager:-} ${player:-} 2> /dev/null || true
    sleep 1
    kill ${server:-} 2> /dev/null || true
    rm -rf "$folder"
}
trap cleanup EXIT
mkdir -p "$pictures"

actions=0
picture() { import -window root "$pictures/first-minute-$size-$1.png"; }
key() { actions=$((actions + 1)); xdotool key --delay 60 "$@"; }
fail() {
    picture failed
    cat "$folder/server" "$folder/said" || true
    echo "$1"
    exit 1
}
until_holds() {
    local left=$(($1 * 5))
    shift
    until "$@" > /dev/null 2>&1; do
        ((left-- > 0)) || return 1
        sleep 0.2
    done
}
has_take() { [[ $("$tool" take list --json 2> /dev/null | grep -c '"id"') -gt 0 ]]; }

jackd -n "$JACK_DEFAULT_SERVER" -r -d dummy -r 48000 -p 1024 > "$folder/server" 2>&1 &
server=$!
until_holds 60 jack_lsp || { cat "$folder/server"; echo "the JACK server did not start"; exit 77; }
openbox > /dev/null 2>&1 &
manager=$!
sleep 1
"$standalone" > "$folder/said" 2>&1 &
running=$!
until_holds 60 xdotool search --onlyvisible --name '^Valve Ladder$' || fail "the window did not open"
# Of the windows of that name the largest: toolkits keep small ones beside it.
largest() {
    local best=0 id
    for id in $(xdotool search --onlyvisible --name '^Valve Ladder$'); do
        eval "$(xdotool getwindowgeometry --shell "$id")"
        ((WIDTH * HEIGHT > best)) && best=$((WIDTH * HEIGHT)) && echo "$id"
    done | tail -1
}
sleep 2
window=$(largest)
eval "$(xdotool getwindowgeometry --shell "$window")" # X Y WIDTH HEIGHT
# A frame's width and title are counted twice in X and Y of a window that the manager has put into one.
X=$((X - 1)) Y=$((Y - 23))
echo "the window: $WIDTH by $HEIGHT at $X, $Y"
((WIDTH <= ${size%x*} && HEIGHT <= ${size#*x})) || fail "the window, $WIDTH by $HEIGHT, is larger than its display"
((X >= 0 && Y >= 0 && X + WIDTH <= ${size%x*} && Y + HEIGHT <= ${size#*x})) ||
    fail "the window at $X, $Y reaches beyond its display"
# Up and down in eighths at the tempo that is offered first, 60: sounding E3 to B flat 3.
notes=() at=0
for note in 52 53 54 55 56 57 58 57 56 55 54 53; do
    notes+=("$at" "$note" 20000)
    at=$((at + 24000))
done
jack_midiseq Hand "$at" "${notes[@]}" > "$folder/player" 2>&1 &
player=$!
until_holds 20 jack_connect "Hand:out" "Valve Ladder MIDI:player" ||
    fail "the program has no MIDI ports on the JACK server"
sleep 2
picture 1-first-steps

key Tab # the first choice of the page: one that a player need not make
sleep 0.5
picture 2-choice
# Start, the large button at the right foot of the page.
actions=$((actions + 1))
xdotool mousemove --window "$window" $((WIDTH - 48 - 100)) $((HEIGHT - 64 - 70)) click 1
sleep 12
picture 3-playing
key space # stops: the take ends there and its result opens by itself
until_holds 60 has_take || fail "no take was heard"
sleep 3
picture 4-result
"$tool" log info
kill "$running"
wait "$running" || true
((actions <= 6)) || fail "it took $actions actions"
echo "a heard take and its result in $actions actions"
