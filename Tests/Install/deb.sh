#!/usr/bin/env bash
# Makes the Debian package of a build, has lintian judge it, and installs it in a bare Debian 12: the console, the plugin
# in the demo host, and what is left when it is removed.
#   deb.sh SOURCE BUILD
# Needs root and the network. 77: it cannot be tried here, and why.
set -euo pipefail

source=$1
build=$2
[ "$(id -u)" -eq 0 ] || { echo "skipped: only root makes a bare Debian"; exit 77; }
for needed in mmdebstrap lintian cpack; do
    command -v $needed >/dev/null || { echo "skipped: $needed is not installed"; exit 77; }
done
work=$(mktemp -d)
mounted=()
clean() {
    for place in "${mounted[@]}"; do umount "$place"; done
    rm -rf --one-file-system "$work"
}
trap clean EXIT

cpack -G DEB --config "$build/CPackConfig.cmake" -B "$work/package" >"$work/cpack.log" 2>&1 || { cat "$work/cpack.log"; exit 1; }
package=$(ls "$work"/package/valve-ladder_*.deb)
dpkg-deb --info "$package"
lintian --allow-root --fail-on error "$package"

root=$work/debian
mmdebstrap --variant=minbase --include=ca-certificates bookworm "$root" /etc/apt/sources.list.d/debian.sources >"$work/debian.log" 2>&1 || {
    tail -n 3 "$work/debian.log"
    echo "skipped: a bare Debian cannot be made here"
    exit 77
}
mount -t proc proc "$root/proc" && mounted+=("$root/proc")
mount --bind /dev "$root/dev" && mounted+=("$root/dev")
cp "$package" "$root/root/valve-ladder.deb"
bare() { chroot "$root" /usr/bin/env -i HOME=/root PATH=/usr/sbin:/usr/bin:/sbin:/bin LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive bash -ec "$1"; }

# A new root has no lists of packages.
bare 'apt-get update -qq && apt-get install -y -qq --no-install-recommends /root/valve-ladder.deb' >"$work/install.log" 2>&1 || { cat "$work/install.log"; exit 1; }
bare 'ldd /usr/bin/valve-ladder /usr/bin/valve-ladder-standalone "/usr/lib/vst3/Valve Ladder.vst3/Contents/x86_64-linux/Valve Ladder.so" | grep "not found"' &&
    { echo "a library is missing"; exit 1; }

# The console, with a log of the player's own.
bare 'cd /root && valve-ladder --version && valve-ladder examples look-round &&
    valve-ladder assess look-round/one-rung.flac -d look-round/one-rung.json --keep --invented --player Ina &&
    valve-ladder plan --player Ina && valve-ladder sheet -o daily.pdf --bpm 60 && test -s daily.pdf'
log='/root/.local/share/Valve Ladder/log.sqlite'
[ -s "$root$log" ] || { echo "the take is not in $log"; exit 1; }

# The plugin in a host that is not part of the package.
cp "$build/valve-ladder-demo" "$root/root/"
bare 'cd /root && ./valve-ladder-demo --plugin "/usr/lib/vst3/Valve Ladder.vst3" --takes 1 --out session >demo.log' || { cat "$root/root/demo.log"; exit 1; }
[ -s "$root/root/session/log.sqlite" ] || { echo "the plugin kept no take"; exit 1; }

before=$(sha256sum <"$root$log")
bare 'apt-get purge -y -qq valve-ladder' >"$work/remove.log" 2>&1 || { cat "$work/remove.log"; exit 1; }
[ "$before" = "$(sha256sum <"$root$log")" ] || { echo "removing touched the player's log"; exit 1; }
left=$(find "$root/usr" "$root/etc" -iname '*valve*ladder*')
[ -z "$left" ] || { echo "removing left: $left"; exit 1; }
echo "installed, heard, played and removed; the player's log is still there"
