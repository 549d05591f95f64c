#!/usr/bin/env bash
# The plugin's window in Ardour, on a display of its own: it opens with the session, follows when the host's window is
# made larger, grows from 100 to 200 % by the Set-up, and is the same when the session is opened again. Space, pressed
# while the window has the keyboard, starts and stops Ardour's transport, as Ardour itself tells by OSC. Ardour runs on its
# own backend without a device: as a client of JACK it now and then asks the server from two threads at once while it
# starts, and breaks off.
#   ardour.sh PLUGIN-FOLDER LV2|VST3 PICTURE-FOLDER
# Needs Ardour 7, oscsend, oscdump, xvfb-run, openbox, xdotool, xwininfo and ImageMagick; exits with 77 (skipped) where they are
# missing.
set -euo pipefail
source "$(dirname "${BASH_SOURCE[0]}")/hand.sh"

products=$1 format=$2 pictures=$3
libraries=/usr/lib/ardour7
need identify ardour ardour7-lua oscsend oscdump xvfb-run xdotool openbox xwininfo import compare
[[ -e $products/$format ]] || { echo "there is no $format in $products"; exit 77; }
[[ $format == LV2 || -x $libraries/ardour-vst3-scanner ]] || { echo "this Ardour has no VST3"; exit 77; }
on_display 2880x2000 "$@"

folder=$(mktemp -d)
export HOME="$folder" XDG_CONFIG_HOME="$folder/.config" XDG_CACHE_HOME="$folder/.cache" XDG_DATA_HOME="$folder/.local/share"
export VALVE_LADDER_LOG="$folder/log.sqlite" VALVE_LADDER_SESSION="$folder/session" VALVE_LADDER_FORMAT=$format
export LV2_PATH="$products/LV2"
cleanup() {
    end_programs ${heard:-} ${running:-} ${manager:-}
    rm -rf "$folder"
}
trap cleanup EXIT
mkdir -p "$pictures"

# configure: Ardour begins without its assistant and without a device, and takes and tells its transport by OSC.
configure() {
    local place=$XDG_CONFIG_HOME/ardour7
    mkdir -p "$place" "$XDG_DATA_HOME"
    touch "$place/.a7" # an assistant was here
    cat > "$place/config" << END
<?xml version="1.0" encoding="UTF-8"?>
<Ardour><Config><Option name="try-autostart-engine" value="1"/><Option name="hide-dummy-backend" value="0"/></Config>
<ControlProtocols><Protocol name="Open Sound Control (OSC)" active="1"/></ControlProtocols>
<Extra><AudioMIDISetup><EngineStates><State backend="None (Dummy)" driver="Normal Speed" device="Silence" input-device=""
 output-device="" sample-rate="48000" buffer-size="1024" n-periods="0" input-latency="0" output-latency="0" lm-input=""
 lm-output="" active="1" use-buffered-io="0" midi-option="1 in, 1 out, Silence" lru="1"><MIDIDevices/></State></EngineStates>
</AudioMIDISetup></Extra></Ardour>
END
}
# know_plugin: lets Ardour find a VST3, and names the plugin as it does.
know_plugin() {
    export VALVE_LADDER_PLUGIN=urn:valveladder:valve-ladder
    [[ $format == VST3 ]] || return 0
    export VALVE_LADDER_PLUGIN="Valve Ladder"
    mkdir -p "$HOME/.vst3"
    ln -s "$products/VST3/Valve Ladder.vst3" "$HOME/.vst3/"
    LD_LIBRARY_PATH=$libraries $libraries/ardour-vst3-scanner -f "$HOME/.vst3/Valve Ladder.vst3" > "$folder/said" 2>&1 ||
        fail "Ardour cannot scan the VST3"
}
# make_session: with the plugin's window open, as Ardour keeps it with a session.
make_session() {
    ardour7-lua < "$(dirname "${BASH_SOURCE[0]}")/ardour_session.lua" > "$folder/said" 2>&1 || fail "no session was made"
    session=$VALVE_LADDER_SESSION/valve-ladder.ardour
    local track plugin
    track=$(sed -n 's/.*<Route .*id="\([0-9]*\)" name="Guide".*/\1/p' "$session")
    plugin=$(sed -n 's/.*<Processor id="\([0-9]*\)" name="Valve Ladder".*/\1/p' "$session")
    [[ -n $track && -n $plugin ]] || fail "the session does not hold the plugin"
    sed -i "s|</Session>|<Extra><UI><Window name=\"P-$track-$plugin\" visible=\"1\" x-off=\"20\" y-off=\"20\" x-size=\"-1\" \
y-size=\"-1\" custom-ui=\"1\"/></UI></Extra></Session>|" "$session"
}
# open_session: and waits for the window that Ardour keeps the plugin's in.
open_session() {
    ardour "$session" > "$folder/said" 2>&1 &
    running=$!
    until_holds 120 plugin_shown || fail "the plugin's window did not open"
}
plugin_shown() {
    window=$(largest 'Valve Ladder.*\['"$format")
    [[ -n $window ]]
}
# start_transport_monitor: what Ardour says of its transport; transport_says 1|0: whether it said last that it runs.
transport_port=$((20000 + $$ % 20000))
start_transport_monitor() {
    oscdump -L "$transport_port" > "$folder/transport" 2> "$folder/monitor" &
    heard=$!
    until_holds 60 ask_and_hear || fail "Ardour does not tell its transport"
}
# Asks Ardour, at its usual port, for "master" feedback (16), sent to ours, until it says that it stands.
ask_and_hear() {
    oscsend osc.udp://localhost:3819 /set_surface iiiiiii 0 0 16 0 0 0 "$transport_port"
    transport_says 0
}
transport_says() {
    [[ $(sed -n 's|.* /transport_play f \([01]\)\..*|\1|p' "$folder/transport" | tail -1) == "$1" ]]
}

# find_page: the plugin's own window, the innermost that is not tiny in the host's: page, page_width, page_height. page_is WIDTH
# HEIGHT: whether it is so large, in px.
find_page() {
    read -r page page_width page_height <<< "$(xwininfo -tree -id "$window" |
        sed -n 's/^  *\(0x[0-9a-f]*\) .* \([0-9]\{3,\}\)x\([0-9]\{3,\}\)+.*/\1 \2 \3/p' | tail -1)"
}
# Ardour's own window never stands still: only the page can come to rest.
same_picture() {
    find_page
    import -window "$page" "$folder/now.png"
    local still=1
    [[ -e $folder/then.png ]] && [[ $(compare -metric AE "$folder/now.png" "$folder/then.png" null: 2>&1) == 0 ]] && still=0
    mv "$folder/now.png" "$folder/then.png"
    return $still
}
page_is() {
    find_page
    [[ $page_width == "$1" && $page_height == "$2" ]]
}
page_wider_than() {
    find_page
    ((page_width > $1))
}
# on_page X Y: clicks there, in px of the page at 100 %.
on_page() {
    find_page
    xdotool mousemove --window "$page" "$1" "$2" click 1
    settled 5
}
# drawn: whether the page shows something: an empty one has no more colours than its ground.
drawn() {
    find_page
    import -window "$page" "$folder/page.png"
    [[ $(identify -format %k "$folder/page.png") -gt 50 ]]
}

start_manager
configure
know_plugin
make_session
open_session
start_transport_monitor
until_holds 60 page_is 1280 800 || fail "the page is $page_width by $page_height"
until_holds 60 drawn || fail "the page is empty"
picture "ardour-$format-1-open"

on_page 640 28 # the bar between the buttons: nothing there but the keyboard's focus
key 1
xdotool key space
until_holds 30 transport_says 1 || fail "Space does not start Ardour's transport"
picture "ardour-$format-2-rolling"
xdotool key space
until_holds 30 transport_says 0 || fail "Space does not stop Ardour's transport"

eval "$(xdotool getwindowgeometry --shell "$window")" # WIDTH HEIGHT
xdotool windowsize "$window" $((WIDTH + 160)) $((HEIGHT + 90))
until_holds 30 page_wider_than 1400 || fail "the page does not follow the host's window: it is $page_width by $page_height"
picture "ardour-$format-3-larger"
xdotool windowsize "$window" "$WIDTH" "$HEIGHT"
until_holds 30 page_is 1280 800 || fail "the page does not go back with the host's window"

key s
on_page 950 133  # unfolds Display, in the Set-up
on_page 1148 227 # the scale
key Down
key Down
key Down
key Return
until_holds 30 page_is 2560 1600 || fail "at 200 % the page is $page_width by $page_height"
picture "ardour-$format-4-twice"

# Closed and opened again by a double click on the plugin in its track's strip.
main=$(largest 'valve-ladder - Ardour')
focus "$window"
xdotool key alt+F4
until_holds 30 eval '! plugin_shown' || fail "the plugin's window does not close"
# changed GEOMETRY: whether that part of Ardour's window has changed since main_part before GEOMETRY.
main_part() { window=$main part "$1" "$2"; }
changed() {
    main_part now "$1"
    ! alike before now
}
main_part before 60x20+10+341
xdotool mousemove --window "$main" 40 350 click 1 # the track's name
until_holds 30 changed 60x20+10+341 || fail "the track cannot be chosen"
focus "$main"
main_part before 90x20+0+180
xdotool key shift+e # its strip
until_holds 30 changed 90x20+0+180 || fail "the track's strip does not show"
xdotool mousemove --window "$main" 70 189 click --repeat 2 --delay 80 1
until_holds 60 plugin_shown || fail "the plugin's window does not open again"
until_holds 60 page_is 2560 1600 || fail "opened again the page is $page_width by $page_height"
until_holds 60 drawn || fail "opened again the page is empty"
picture "ardour-$format-5-again"
echo "opened, rolled by Space, resized, at 200 % and opened again"
