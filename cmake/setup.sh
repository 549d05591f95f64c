#!/usr/bin/env bash
# Installs the Debian packages named in the given lists that are not there yet. Called by demo.sh and test.sh.
#   cmake/setup.sh LIST...
set -euo pipefail

wanted=$(cat "$@" | sed 's/#.*//' | tr -s ' \n' '\n' | sort -u)
missing=()
for package in $wanted; do
    # node and npm may have come from elsewhere; then Debian's are not needed.
    case $package in nodejs) command -v node >/dev/null && continue ;; npm) command -v npm >/dev/null && continue ;; esac
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q '^install ok installed' || missing+=("$package")
done
[ ${#missing[@]} -eq 0 ] && exit 0

as_root=()
if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || {
        echo "These packages are missing and only root may install them: ${missing[*]}" >&2
        echo "Install sudo, or run this as root:  apt-get install ${missing[*]}" >&2
        exit 1
    }
    as_root=(sudo)
fi
echo "Installing ${#missing[@]} packages: ${missing[*]}"
export DEBIAN_FRONTEND=noninteractive
"${as_root[@]}" apt-get update -qq
"${as_root[@]}" apt-get install -y -qq --no-install-recommends "${missing[@]}"
