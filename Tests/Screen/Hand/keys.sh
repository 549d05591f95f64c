#!/usr/bin/env bash
# The Standalone by its keys alone, on a display of its own: the first page, Start, a take by MIDI, its result, the
# practice that it advises, and a take of that. No mouse event is ever made, and the program asks for the keyboard by
# itself. Letters that mean nothing to the window are typed in every place: had a field the keyboard unasked, they would
# be in it.
#   keys.sh STANDALONE CONSOLE-TOOL PICTURE-FOLDER
# Needs jackd, xvfb-run, openbox, xdotool and ImageMagick; exits with 77 (skipped) where they are missing.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/hand.sh"

standalone=$1 tool=$2 pictures=$3
prepare_standalone 1400x960 "$@"

# tab_to NAME KEY WIDTHxHEIGHT+X+Y: goes from stop to stop, by Tab or shift+Tab, until the ring is seen in that part of
# the window.
tab_to() {
    local presses
    part before "$3"
    for presses in {1..60}; do
        key "$2"
        part now "$3"
        alike before now || return 0
    done
    fail "$1 cannot be reached by Tab"
}
# type_nothing: letters that are no keys of the window.
type_nothing() { xdotool key --delay 60 n n; }
# expect_place NAME TABS: the place of that name is shown, as its tabs say.
expect_place() {
    tabs now
    alike now "$2" || fail "$1 is not shown"
}
# drills_kept COUNT: whether the log holds takes of so many drills.
drills_kept() { [[ $("$tool" take list --json | sed -n 's/.*"drill": *"\([^"]*\)".*/\1/p' | sort -u | wc -l) -ge $1 ]]; }

open_standalone
start_player
start_monitor

type_nothing
tab_to Start shift+Tab 80x56+$((WIDTH - 110))+$((HEIGHT - 124))
picture keys-1-start
xdotool key --delay 60 Return
until_holds 120 guide_has 30 || fail "the guide does not play after Start"
tabs playing
type_nothing
picture keys-2-playing
xdotool key --delay 60 space
until_holds 60 takes_kept 1 || fail "no take was heard"
until_holds 60 place_left playing || fail "the result did not open by itself"
settled 20
tabs result
type_nothing
picture keys-3-result

# Every place by its key and back, with letters typed in each.
for place in 1 3 4 s; do
    key "$place"
    place_left result || fail "the key $place leads nowhere"
    type_nothing
    key Return
done
key 2
expect_place "the result" result

tab_to "Practise this" Tab 800x40+152+$((HEIGHT - 236))
key Return
settled 10
expect_place "the drill" playing
picture keys-4-practise
before=$(guide_count)
xdotool key --delay 60 space
until_holds 120 guide_has $((before + 20)) || fail "the guide does not play what is to be practised"
xdotool key --delay 60 space
until_holds 60 takes_kept 2 || fail "no take of what was practised was heard"
drills_kept 2 || fail "what was practised is the drill as it was"
players=$("$tool" take list --json | sed -n 's/.*"player": *"\([^"]*\)".*/\1/p' | sort -u)
[[ $players == Player ]] || fail "the player's name was typed into: $players"
kill "$running"
wait "$running" || true
echo "two takes without a mouse, of $players"
