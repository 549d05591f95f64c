#!/usr/bin/env bash
# Gives the README's commands as they stand there, and looks at what they leave.
#   commands.sh SOURCE here               the first command, in this tree, and what "Install it" says after it
#   commands.sh SOURCE bare first|second  one command in a clean clone on a bare Debian 12 (debootstrap; root)
set -euo pipefail

source=$1
mode=$2
mapfile -t commands < <(sed -n 's/^    \(bash cmake\/.*\)$/\1/p' "$source/README.md")
[ ${#commands[@]} -eq 2 ] || { echo "README.md holds ${#commands[@]} commands, not two"; exit 1; }

work=$(mktemp -d)
trap 'rm -rf --one-file-system "$work"' EXIT

# The folder of the first command must hold a session: log, guide, tempo map, report, each said to be invented.
look_at() {
    local folder=$1
    ls -l "$folder"
    for file in log.sqlite guide.mid tempo-map.mid report.txt take.svg practice-sheet.pdf findings.txt; do
        [ -s "$folder/$file" ] || { echo "$file is missing or empty"; exit 1; }
    done
    [ "$(head -c 15 "$folder/log.sqlite")" = "SQLite format 3" ] || { echo "log.sqlite is no SQLite file"; exit 1; }
    for file in guide.mid tempo-map.mid; do
        [ "$(head -c 4 "$folder/$file")" = MThd ] || { echo "$file is no Standard MIDI File"; exit 1; }
    done
    grep -qi invented "$folder/report.txt" || { echo "the report does not say that its player is invented"; exit 1; }
}

# "Install it": the README's command, but into a folder of ours, and every file in its place.
install_it() {
    local command
    command=$(sed -n 's/^    \(cmake --install .*\)$/\1/p' "$source/README.md")
    [[ $command == *" --prefix ~/.local" ]] || { echo "README.md does not say how to install into ~/.local"; exit 1; }
    grep -q '`cmake --build build-demo`' "$source/README.md" || { echo "README.md does not say what to build first"; exit 1; }
    cmake --build build-demo
    ${command/"~/.local"/"$work/prefix"} >"$work/install.log"
    "$work/prefix/bin/valve-ladder" --version
    bash "$source/Tests/Install/tree.sh" "$source" build-demo ON || [ $? -eq 77 ]
}

if [ "$mode" = here ]; then
    cd "$source"
    ${commands[0]} "$work/session"
    look_at "$work/session"
    install_it
    exit 0
fi

root=$work/debian
debootstrap --variant=minbase bookworm "$root" >"$work/debootstrap.log"
mount --bind /proc "$root/proc"
trap 'umount "$root/proc"; rm -rf --one-file-system "$work"' EXIT
git clone -q "$source" "$root/root/valve-ladder"
cp -r /etc/apt/. "$root/etc/apt/" # the registries that this machine may use
cp /etc/resolv.conf "$root/etc/resolv.conf" 2>/dev/null || true
# A machine behind a proxy of its own has npm trust that proxy's certificate; the bare system must as well.
authority=$(npm config get cafile 2>/dev/null || true)
npm_trust=()
if [ -f "$authority" ]; then
    cp "$authority" "$root/root/authority.pem"
    npm_trust=(NPM_CONFIG_CAFILE=/root/authority.pem)
fi
run() { chroot "$root" /usr/bin/env -i "${npm_trust[@]}" HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 bash -c "cd /root/valve-ladder && $1"; }
if [ "$3" = first ]; then
    run "${commands[0]}"
    look_at "$root/root/valve-ladder/demo-session"
else
    run "${commands[1]}" | tee "$work/test.log"
    tail -n 20 "$work/test.log" | grep -q "tests passed, 0 tests failed" || { echo "no summary of ctest"; exit 1; }
fi
