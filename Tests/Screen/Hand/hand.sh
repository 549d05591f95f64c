# For the scripts beside this one, which set $folder and $pictures: a window driven by real keys and mouse on a display of
# its own. Every wait is for a condition.

# until_holds SECONDS COMMAND...: waits for the command to succeed.
until_holds() {
    local left=$(($1 * 5))
    shift
    until "$@" > /dev/null 2>&1; do
        ((left-- > 0)) || return 1
        sleep 0.2
    done
}

# need PROGRAM...: skips the test where one is missing.
need() {
    local program
    for program in "$@"; do
        command -v "$program" > /dev/null || { echo "$program is not installed"; exit 77; }
    done
}

# on_display SIZE ARGUMENT...: begins the script anew, with these arguments, on a display of its own of that size.
on_display() {
    [[ -z ${BY_HAND_INSIDE:-} ]] || return 0
    export BY_HAND_INSIDE=1
    exec xvfb-run -a -s "-screen 0 ${1}x24" "$0" "${@:2}"
}

picture() { import -window root "$pictures/$1.png"; }

# fail MESSAGE: with a picture of the window and what the programs said.
fail() {
    picture "$(basename "$0" .sh)-failed" || true
    cat "$folder/server" "$folder/said" 2> /dev/null || true
    echo "$1"
    exit 1
}

# largest NAME: of the windows of that title the largest; toolkits keep small ones beside it.
largest() {
    local best=0 id WIDTH HEIGHT X Y SCREEN WINDOW
    for id in $(xdotool search --onlyvisible --name "$1"); do
        eval "$(xdotool getwindowgeometry --shell "$id")"
        ((WIDTH * HEIGHT > best)) && best=$((WIDTH * HEIGHT)) && echo "$id"
    done | tail -1
}

# start_jack: a server without a device, at $jack_rate Hz in blocks of $jack_block samples. In synchronous mode a block
# waits for every program: none is lost on a busy machine.
jack_rate=48000 jack_block=1024
start_jack() {
    export JACK_DEFAULT_SERVER="valve-ladder-$$" JACK_NO_AUDIO_RESERVATION=1
    jackd -n "$JACK_DEFAULT_SERVER" -r -S -d dummy -r "$jack_rate" -p "$jack_block" > "$folder/server" 2>&1 &
    server=$!
    until_holds 60 jack_lsp || { cat "$folder/server"; echo "the JACK server did not start"; exit 77; }
}

# end_programs PROCESS...: one after another, each awaited.
end_programs() {
    local program
    for program in "$@"; do
        kill "$program" 2> /dev/null || true
        wait "$program" 2> /dev/null || true
    done
}

# stop_jack CLIENT...: ends these processes, and the server when it has seen all of them go: told to end while it still
# writes to one, it dies and leaves its name in the list of servers, which holds eight.
stop_jack() {
    end_programs "$@"
    [[ -n ${server:-} ]] || return 0
    until_holds 20 only_system_ports || true
    end_programs "$server"
}
only_system_ports() {
    jack_lsp > "$folder/ports" && ! grep -qv '^system:' "$folder/ports"
}

# start_player: plays up and down in eighths at the tempo that is offered first, 60: sounding E3 to B flat 3.
start_player() {
    local notes=() at=0 note
    for note in 52 53 54 55 56 57 58 57 56 55 54 53; do
        notes+=("$at" "$note" 20000)
        at=$((at + 24000))
    done
    jack_midiseq Hand "$at" "${notes[@]}" > "$folder/player" 2>&1 &
    player=$!
    until_holds 20 jack_connect "Hand:out" "Valve Ladder MIDI:player" ||
        fail "the program has no MIDI ports on the JACK server"
}

# start_monitor: what the guide plays, a line a message. guide_count: how many it has played, said in another way by a
# script that hears it otherwise; guide_has COUNT: whether it has played so many.
start_monitor() {
    stdbuf -oL jack_midi_dump > "$folder/guide" 2> "$folder/monitor" &
    heard=$!
    until_holds 20 jack_connect "Valve Ladder MIDI:guide" "midi-monitor:input" || fail "the guide cannot be heard"
}
guide_count() { wc -l < "$folder/guide"; }
guide_has() { [[ $(guide_count) -ge $1 ]]; }

# start_ear EAR: what the first loudspeaker gets and what the guide plays, both by the server's frames.
start_ear() {
    "$1" > "$folder/ear" 2>&1 &
    ear=$!
    until_holds 20 jack_connect "Valve Ladder MIDI:guide" "ear:guide" || fail "the guide's frames cannot be heard"
    until_holds 20 hear_loudspeaker || fail "the program gives no sound to the loudspeaker"
}
hear_loudspeaker() {
    local port
    port=$(jack_lsp -c system:playback_1 | sed -n 's/^  *//p' | head -1)
    [[ -n $port ]] && jack_connect "$port" ear:sound
}

# play_tones: the ear's tones go to the microphone that the program listens to.
play_tones() {
    local port
    port=$(jack_lsp -c system:capture_1 | sed -n 's/^  *//p' | head -1)
    [[ -n $port ]] && jack_connect ear:tone "$port"
}

# click_run BPM CHANNEL: how many clicks of the guide, counted back from the last one, were heard at their sample, one
# beat after another to the sample and not below -40 dB of full scale. The program's MIDI ports tell each a block later,
# always: they are a client of their own, which the server runs before or after the sound.
click_run() {
    awk -v block="$jack_block" -v beat="$((jack_rate * 60 / $1))" -v channel="$2" '
        $1 == "sound" { peaks[begun = $2] = 1 } # until it has ended
        $1 == "peak" { peaks[begun] = $3 }
        $1 == "note" && $3 == channel { clicks[count++] = $2 }
        END {
            for (i = count - 1; i >= 0; --i) {
                at = clicks[i] - block
                if (!(at in peaks) || peaks[at] < 0.01 || (run > 0 && last - at != beat))
                    break
                last = at
                ++run
            }
            print run + 0
        }' "$folder/ear"
}
clicks_run() { [[ $(click_run "$2" "$3") -ge $1 ]]; } # clicks_run COUNT BPM CHANNEL

# start_manager: JUCE asks for properties that only a window manager makes known to the display.
start_manager() {
    openbox > "$folder/manager" 2>&1 &
    manager=$!
    until_holds 30 xdotool get_num_desktops
}

# prepare_standalone SIZE ARGUMENT...: on_display, where $standalone and what drives it are there; with an empty home in
# $folder and with $pictures, and what runs is ended with the script.
prepare_standalone() {
    need jackd jack_connect jack_lsp jack_midi_dump jack_midiseq xvfb-run xdotool openbox import compare
    [[ -x $standalone ]] || { echo "$standalone is not built"; exit 77; }
    on_display "$@"
    folder=$(mktemp -d)
    export HOME="$folder" VALVE_LADDER_LOG="$folder/log.sqlite"
    trap clear_standalone EXIT
    mkdir -p "$pictures"
}
clear_standalone() {
    stop_jack ${ear:-} ${heard:-} ${player:-} ${running:-}
    kill ${manager:-} 2> /dev/null || true
    rm -rf "$folder"
}

# open_standalone: on a JACK server, as $running; its $window at X, Y, of WIDTH by HEIGHT.
open_standalone() {
    start_jack
    start_manager
    "$standalone" > "$folder/said" 2>&1 &
    running=$!
    until_holds 60 xdotool search --onlyvisible --name '^Valve Ladder$' || fail "the window did not open"
    settled 20
    window=$(largest '^Valve Ladder$')
    eval "$(xdotool getwindowgeometry --shell "$window")"
}

# is_focused WINDOW, focus WINDOW: keys go to it.
is_focused() { [[ $(xdotool getwindowfocus) == "$1" ]]; }
focus() {
    xdotool windowfocus "$1" || true
    until_holds 20 is_focused "$1" || true # the toolkit may keep the focus in a window inside it
}

# same_picture: whether the display is as it was at the last call.
same_picture() {
    import -window root "$folder/now.png"
    local still=1
    [[ -e $folder/then.png ]] && [[ $(compare -metric AE "$folder/now.png" "$folder/then.png" null: 2>&1) == 0 ]] && still=0
    mv "$folder/now.png" "$folder/then.png"
    return $still
}
# settled SECONDS: waits until nothing moves on the display any more.
settled() { until_holds "$1" same_picture || true; }

# part NAME WIDTHxHEIGHT+X+Y: a picture of that part of $window. alike NAME NAME: whether two of them are the same.
part() { import -window "$window" -crop "$2" +repage "$folder/part-$1.png"; }
alike() { [[ $(compare -metric AE "$folder/part-$1.png" "$folder/part-$2.png" null: 2>&1) == 0 ]]; }

# tabs NAME: a picture of the tabs of the four places, of which the one that is shown stands out. place_left NAME: whether
# another place is shown than in that picture.
tabs() { part "$1" 448x40+20+8; }
place_left() {
    tabs now
    ! alike now "$1"
}

# takes_kept COUNT: whether the log holds so many takes.
takes_kept() { [[ $("$tool" take list --json 2> /dev/null | grep -c '"id"') -ge $1 ]]; }

# key KEY...: pressed, and what it does awaited.
key() { xdotool key --delay 60 "$@"; settled 5; }

# play_two_takes PICTURES MESSAGES: each cut short by stopping the clock once the guide has played so many more.
play_two_takes() {
    local take before
    for take in 1 2; do
        before=$(guide_count)
        key 1
        xdotool key --delay 60 space
        until_holds 120 guide_has $((before + $2)) || fail "take $take: the guide does not play after Space"
        picture "$1-4-playing-$take"
        xdotool key --delay 60 space
        until_holds 60 takes_kept "$take" || fail "take $take did not come into the log"
        settled 10
    done
}

# show_places PICTURES: what the takes look like in each place.
show_places() {
    local place
    for place in 2:5-landing 3:6-stair b:7-side-by-side; do
        key "${place%%:*}"
        picture "$1-${place#*:}"
    done
}

# expect_player NAME: the takes in the log are theirs.
expect_player() {
    "$tool" log info | tee "$folder/info"
    grep -q "$1" "$folder/info" || fail "no take of the player named in the set-up came into the log"
}
