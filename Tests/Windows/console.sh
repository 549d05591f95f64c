#!/usr/bin/env bash
# The console tool for Windows under Wine: the log in %APPDATA%, plan, takes by sound and MIDI, marks in a part, sheets; paths
# of drives, beyond the system's letters and long ones; lines that end as elsewhere; time zones without a database.
#   console.sh SOURCE BUILD
source "$(dirname "${BASH_SOURCE[0]}")/wine.bash" "$2"
source=$1
tool=$build/valve-ladder.exe
needs "$tool"
ladder() { wine "$tool" "$@"; }
says() { # TEXT COMMAND...: what it prints holds TEXT
    local text=$1
    shift
    "$@" >"$work/said" 2>&1 || { cat "$work/said"; fail "this failed: $*"; }
    grep -qF -- "$text" "$work/said" || { cat "$work/said"; fail "'$text' is not in what this printed: $*"; }
}
cd "$work"
appdata=$(wine cmd /c 'echo %APPDATA%' 2>/dev/null | tr -d '\r')
log=$(wine winepath -u "$appdata" 2>/dev/null | tr -d '\r')/Valve\ Ladder/log.sqlite
rm -rf "$(dirname "$log")"

says "valve-ladder " ladder --version
says "60" ladder plan --player Ina
# A player's name and files in letters that no single code page of Windows holds together.
letters='Übung ř Ж 金管'
mkdir "$letters"
says "week.sqlite" ladder examples "$letters/Beispiele"
says "Jürg Дмитрий" ladder plan --player "Jürg Дмитрий"
ladder assess "$letters/Beispiele/one-rung.flac" -d "$letters/Beispiele/one-rung.json" --keep --invented --player "Ina Жук" >assessed
[ -s "$log" ] || fail "the take is not in $log"
says "1 take" ladder log info
says "Ina Жук" ladder players
says "Ina Жук" env VALVE_LADDER_PLAYER="Ina Жук" wine "$tool" plan
# What is told of a file that is not there names it as it was asked for.
ladder assess "$letters/fehlt.mid" >/dev/null 2>missing && fail "a file that is not there was heard"
grep -qF "$letters" missing || { cat missing; fail "the problem does not name '$letters'"; }
# The same take from a drive's path.
drive=$(winpath "$work/$letters/Beispiele")
ladder assess "$drive\\one-rung.flac" -d "$drive\\one-rung.json" --player "Ina Жук" >by-drive
diff <(sed 1,3d assessed | grep -v 'in the log\|Not kept') <(sed 1,3d by-drive | grep -v 'in the log\|Not kept') || fail "a drive's path gave another take"
# MIDI in and out.
ladder guide -o "$letters/Führung.mid" --bpm 60 >guide
[ "$(head -c 4 "$letters/Führung.mid")" = MThd ] || fail "the guide is no MIDI file"
says "right" ladder assess "$letters/Führung.mid" --player Ina --bpm 60
# Marks in a part, and the printed sheet.
ladder mark "$source/Resources/parts/two-spots.musicxml" -o "$letters/Stimme.musicxml" >marked
grep -q '<fingering' "$letters/Stimme.musicxml" || fail "no fingering was written"
ladder sheet -o "$letters/täglich.pdf" --bpm 60 >sheet
[ "$(head -c 5 "$letters/täglich.pdf")" = '%PDF-' ] || fail "the sheet is no PDF"
# Long paths.
long=$letters
for part in 1 2 3 4 5 6; do long=$long/$(printf "%050d" $part); done
mkdir -p "$long"
ladder guide -o "$long/guide.mid" --bpm 60 >guide || fail "a path of ${#long} characters cannot be written"
cmp "$long/guide.mid" "$letters/Führung.mid" || fail "the same guide has other bytes at the end of a long path"
# Lines end as they do elsewhere, in what is printed and in files.
ladder log export --csv "$letters/csv" >exported
ladder instruments --json >instruments
for text in assessed instruments "$letters/Stimme.musicxml"; do
    grep -q $'\r' "$text" && fail "$text has lines that end in CR LF"
done
# Time zones: Windows' own name of the machine's, and one that the database alone knows.
says "Europe/Berlin" env -u TZ TZ=Europe/Berlin wine "$tool" plan --player Ina
says "Pacific/Chatham" ladder plan --player Ina --zone Pacific/Chatham
ladder plan --player Ina --zone No/Where >/dev/null 2>&1 && fail "a time zone that there is not was taken"
# Two at once: the log waits for neither for ever.
pids=()
for n in 1 2 3 4; do
    ladder assess "$letters/Beispiele/one-rung.flac" -d "$letters/Beispiele/one-rung.json" --keep --invented --player "P$n" >"at-once-$n" 2>&1 &
    pids+=($!)
done
for pid in "${pids[@]}"; do wait "$pid" || fail "one of four at once failed: $(cat at-once-*)"; done
says "5 takes" ladder log info
echo "console: ${#long} characters of a path; log in $log; $(wine "$tool" --version | tr -d '\r')"
