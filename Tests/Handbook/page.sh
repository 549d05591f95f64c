#!/usr/bin/env bash
# Runs every command of a page of the handbook in an empty folder, in their order, and compares the pictures that the
# page shows with those that its commands made; pictures of the window are made by the screen-pictures tests.
#   page.sh SOURCE TOOL PAGE
# VALVE_LADDER_WRITE_REFERENCES=1 puts the pictures made into Resources/pictures.
set -euo pipefail

source=$1
tool=$2
page=$source/Resources/handbook/$3.md
for needed in parallel rsvg-convert; do
    command -v $needed >/dev/null || { echo "skipped: $needed is not installed"; exit 77; }
done
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/bin" "$work/home" "$work/here"
ln -s "$tool" "$work/bin/valve-ladder"

awk '/^```sh$/ {on=1; next} /^```/ {on=0} on' "$page" >"$work/commands"
if [ -s "$work/commands" ]; then
    cd "$work/here"
    env -i PATH="$work/bin:/usr/bin:/bin" HOME="$work/home" TZ=Etc/UTC LC_ALL=C.UTF-8 \
        VALVE_LADDER_SHARE="$source/Resources" bash -euo pipefail "$work/commands" >"$work/output" 2>"$work/told" || {
        echo "a command of $3.md failed:" >&2
        cat "$work/output" "$work/told" >&2
        exit 1
    }
    echo "$(grep -c valve-ladder "$work/commands") commands of $3.md ran"
fi
# Every command of ours that is shown stands in a block that is run.
shown=$(awk '/^```/ {on=!on; kind=$0} on && kind != "```sh" && /valve-ladder /' "$page")
[ -z "$shown" ] || { echo "$3.md shows commands that are not run: $shown" >&2; exit 1; }

fault=0
for picture in $(grep -oE '\]\(\.\./pictures/[^)]+\)' "$page" | sed 's|.*/||; s|)$||'); do
    kept=$source/Resources/pictures/$picture
    case $picture in
    *.svg)
        [ -s "$work/here/$picture" ] || { echo "no command of $3.md makes $picture" >&2; fault=1; continue; }
        [ -z "${VALVE_LADDER_WRITE_REFERENCES:-}" ] || cp "$work/here/$picture" "$kept"
        rsvg-convert "$work/here/$picture" -o "$work/made.png"
        cmp -s "$work/here/$picture" "$kept" ||
            { echo "$picture is not what its command makes now: look at it, and set VALVE_LADDER_WRITE_REFERENCES=1" >&2; fault=1; } ;;
    *)
        [ -s "$kept" ] || { echo "there is no $kept" >&2; fault=1; }
        name=${picture%.png}
        grep -rqF "\"$name\"" "$source"/Tests/Screen/*.cpp || { echo "no test of the window makes $picture" >&2; fault=1; } ;;
    esac
done
exit $fault
