#!/usr/bin/env bash
# Fetches the sources named in sources.txt and unpacks them, each into FOLDER/<name>. What does not have the sum that
# stands there is refused. The mirror is the one that this Debian uses; its own lists of sources are kept in FOLDER.
#   fetch.sh FOLDER NAME...
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
mkdir -p "$1" && folder=$(cd "$1" && pwd)
shift

apt_options=(-qq -o "Dir::Etc::sourcelist=$folder/apt/sources.list" -o Dir::Etc::sourceparts=/dev/null
    -o "Dir::State::lists=$folder/apt/lists" -o "Dir::Cache=$folder/apt/cache" -o APT::Sandbox::User=root)
have_lists() {
    [ -n "${listed-}" ] && return
    local site suite
    site=$(apt-get indextargets --format '$(SITE)' 'Identifier: Packages' 'Origin: Debian' 'Component: main' | head -n 1)
    [ -n "$site" ] || { echo "This Debian names no mirror: add one to its list of sources, and run apt-get update" >&2; exit 1; }
    mkdir -p "$folder/apt/lists/partial" "$folder/apt/cache/archives/partial"
    for suite in $(awk '!/^#/ { print $2 }' "$here/sources.txt" | sort -u); do
        echo "deb-src [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] $site $suite main"
    done >"$folder/apt/sources.list"
    apt-get "${apt_options[@]}" update
    listed=yes
}

fetch() { # PACKAGE VERSION FILE SUM
    local uris
    have_lists
    uris=$(apt-get "${apt_options[@]}" source --print-uris --download-only "$1=$2" 2>/dev/null | sed -n "s/^'\([^']*\)' \([^ ]*\) .*/\1 \2/p")
    if [[ $3 == *.dsc ]]; then
        (cd "$folder" && apt-get "${apt_options[@]}" source --download-only "$1=$2") && return
    else
        # apt asks for nothing that is there already, so an archive alone is asked for by its address.
        local address
        address=$(awk -v file="$3" '$2 == file { print $1 }' <<<"$uris")
        [ -n "$address" ] && /usr/lib/apt/apt-helper -qq -o APT::Sandbox::User=root download-file "$address" "$folder/$3" "SHA256:$4" && return
    fi
    echo "$1 $2 cannot be fetched: see whether the mirror still has $3, or name a newer version in $here/sources.txt" >&2
    exit 1
}

unpack() { # NAME FILE
    rm -rf "$folder/$1" "$folder/$1.unpacking"
    if [[ $2 == *.dsc ]]; then
        dpkg-source --no-check -x "$folder/$2" "$folder/$1.unpacking" >/dev/null # its sums are checked, not its signer
    else
        mkdir "$folder/$1.unpacking"
        tar -xf "$folder/$2" -C "$folder/$1.unpacking" --strip-components=1
    fi
    mv "$folder/$1.unpacking" "$folder/$1"
}

for name in "$@"; do
    read -r _ _ version file sum < <(awk -v name="$name" '$1 == name' "$here/sources.txt") ||
        { echo "$here/sources.txt has no line for $name" >&2; exit 1; }
    [ -e "$folder/$name" ] && [ "$(cat "$folder/$name.sum" 2>/dev/null)" = "$sum" ] && continue
    package=${file%%_*}
    [ -e "$folder/$file" ] || fetch "$package" "$version" "$file" "$sum"
    echo "$sum  $folder/$file" | sha256sum --check --quiet || { echo "$file is not the one that was pinned" >&2; exit 1; }
    unpack "$name" "$file"
    echo "$sum" >"$folder/$name.sum"
done
