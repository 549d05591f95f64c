#!/usr/bin/env bash
# The Standalone driven by real key and mouse events on a display of its own: set-up, two takes by MIDI, their
# result, side by side. Sound and MIDI come by a JACK server without a device; the guide's own notes are played
# back to the program as the player's, by a cable between its two ports. Leaves pictures of each step.
#   standalone.sh STANDALONE CONSOLE-TOOL PICTURE-FOLDER
# Needs jackd, xvfb-run, openbox, xdotool and ImageMagick's import; exits with 77 (skipped) where they are missing.
set -euo pipefail

standalone=$1 tool=$2 pictures=$3
for program in jackd jack_connect jack_lsp xvfb-run xdotool openbox import; do
    command -v "$program" > /dev/null || { echo "$program is not installed"; exit 77; }
done
[[ -x $standalone ]] || { echo "$standalone is not built"; exit 77; }
if [[ -z ${BY_HAND_INSIDE:-} ]]; then
    export BY_HAND_INSIDE=1
    exec xvfb-run -a -s "-screen 0 1400x960x24" "$0" "$@"
fi

folder=$(mktemp -d)
export HOME="$folder" VALVE_LADDER_LOG="$folder/log.sqlite" JACK_DEFAULT_SERVER="valve-ladder-$$"
export JACK_NO_AUDIO_RESERVATION=1
cleanup() {
    kill ${running:-} ${manager:-} 2> /dev/null || true
    sleep 1
    kill ${server:-} 2> /dev/null || true
    rm -rf "$folder"
}
trap cleanup EXIT
mkdir -p "$pictures"

picture() { import -window root "$pictures/standalone-$1.png"; }
key() { xdotool key --delay 60 "$@"; sleep 0.5; }
fail() {
    picture failed
    cat "$folder/server" "$folder/said"
    echo "$1"
    exit 1
}
# until SECONDS COMMAND...: waits for the command to succeed.
until_holds() {
    local left=$(($1 * 5))
    shift
    until "$@" > /dev/null 2>&1; do
        ((left-- > 0)) || return 1
        sleep 0.2
    done
}

jackd -n "$JACK_DEFAULT_SERVER" -r -d dummy -r 48000 -p 1024 > "$folder/server" 2>&1 &
server=$!
until_holds 60 jack_lsp || { cat "$folder/server"; echo "the JACK server did not start"; exit 77; }

# JUCE asks for properties that only a window manager makes known to the display.
openbox > /dev/null 2>&1 &
manager=$!
sleep 1
"$standalone" > "$folder/said" 2>&1 &
running=$!
until_holds 60 xdotool search --onlyvisible --name '^Valve Ladder$' || fail "the window did not open"
window=$(xdotool search --onlyvisible --name '^Valve Ladder$' | tail -1)
xdotool windowmove --sync "$window" 0 0 windowfocus "$window" || true
sleep 2
until_holds 20 jack_connect "Valve Ladder MIDI:guide" "Valve Ladder MIDI:player" ||
    fail "the program has no MIDI ports on the JACK server"
jack_lsp -c
eval "$(xdotool getwindowgeometry --shell "$window")" # X Y WIDTH HEIGHT
# Points of the plugin's window, which lies at the foot of the program's: x from its left, y from its foot.
at() { xdotool mousemove $((X + $1)) $((Y + HEIGHT - 800 + $2)); }
picture 0-window
at 640 82 && xdotool click 1 # the header: nothing there but the keyboard's focus
sleep 0.5
picture 1-first-run

key s
picture 2-set-up
at 600 121 && xdotool click --repeat 2 --delay 80 1 # the player's name
xdotool key ctrl+a
xdotool type --delay 40 "Hand"
key Return
picture 3-set-up-done
at 640 28 && xdotool click 1 # the bar between the buttons, so that keys no longer go into the field
sleep 0.5

for take in first second; do
    key 1
    key space
    sleep "${BY_HAND_SECONDS:-20}"
    picture "4-playing-$take"
    key space
    sleep 3
done
key 2
sleep 4
picture 5-landing
key 3
sleep 2
picture 6-stair
key b
sleep 3
picture 7-side-by-side
kill "$running"
wait "$running" || true
"$tool" log info | tee "$folder/info"
grep -q "Hand" "$folder/info" || fail "no take of the player named in the set-up came into the log"
