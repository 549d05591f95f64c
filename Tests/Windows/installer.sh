#!/usr/bin/env bash
# The installer for Windows under Wine, silently: what it puts where, and that it takes all of it away but the player's log.
#   installer.sh BUILD
source "$(dirname "${BASH_SOURCE[0]}")/wine.bash" "$1"
installer=$(ls "$build"/installer/*.exe 2>/dev/null | head -n 1)
needs "${installer:-$build/installer}"
"$wineserver" -k
export WINEPREFIX=$work/wine # a machine that has never seen it
mkdir "$WINEPREFIX"
"$wineserver" -p
wine "$installer" /S || fail "the installer failed"
programs=$WINEPREFIX/drive_c/Program\ Files
place=$programs/Valve\ Ladder
bundle=$programs/Common\ Files/VST3/Valve\ Ladder.vst3
for file in "$place/valve-ladder.exe" "$place/valve-ladder-standalone.exe" "$bundle/Contents/x86_64-win/Valve Ladder.vst3"; do
    [ -s "$file" ] || { find "$programs" -newer "$installer" | head -n 40; fail "$file is not there"; }
done
[ ! -e "$place/VST3" ] || fail "the plugin was left beside the programs"
wine "$place/valve-ladder.exe" examples 'C:\look-round' >/dev/null
wine "$place/valve-ladder.exe" assess 'C:\look-round\one-rung.flac' -d 'C:\look-round\one-rung.json' --keep --invented --player Ina >/dev/null
log=$(find "$WINEPREFIX/drive_c/users" -path '*Valve Ladder/log.sqlite')
[ -s "$log" ] || fail "there is no log under %APPDATA%"
before=$(sha256sum <"$log")
wine "$place/Uninstall.exe" /S || fail "the uninstaller failed"
# It goes on in a copy of itself, which takes away its own file last.
for try in $(seq 120); do
    [ -e "$place" ] || break
    sleep 1
done
left=$(find "$programs" "$WINEPREFIX/drive_c/ProgramData" -iname '*valve*ladder*')
[ -z "$left" ] || fail "left behind: $left"
[ "$before" = "$(sha256sum <"$log")" ] || fail "removing touched the player's log"
echo "installed, used and removed; the player's log is still there"
