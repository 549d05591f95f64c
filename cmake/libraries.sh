#!/usr/bin/env bash
# Builds, static, the libraries that a Valve Ladder for other machines has linked in and that Debian 12 has as shared
# ones alone: from Debian's source packages, pinned by version and checksum in libraries.txt.
#   cmake/libraries.sh linux|windows FOLDER
# Leaves FOLDER/lib and FOLDER/include; what is there already is not built again. Wants apt-get (any deb-src list is its
# own), cmake, git; for windows, g++-mingw-w64-x86-64-posix and libz-mingw-w64-dev as well.
# VALVE_LADDER_RUBBERBAND: a git repository of Rubber Band, in place of the one that libraries.txt names.
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
system=$1
mkdir -p "$2"
prefix=$(cd "$2" && pwd)
jobs=${VALVE_LADDER_JOBS:-$(nproc)}
mkdir -p "$prefix/sources/lists/partial" "$prefix/build"
cd "$prefix/sources"

case $system in
linux)
    wanted="libsndfile libzip fmtlib howardhinnant-date"
    tools=()
    compiler=g++ archiver=ar ;;
windows)
    wanted="libogg flac libvorbis libsndfile libzip fmtlib howardhinnant-date pugixml sqlite3 sqlitecpp"
    tools=("-DCMAKE_TOOLCHAIN_FILE=$here/mingw.cmake")
    compiler=x86_64-w64-mingw32-g++-posix archiver=x86_64-w64-mingw32-ar ;;
*) echo "libraries.sh: $system is neither linux nor windows" >&2; exit 2 ;;
esac
export CFLAGS="-O2 -fPIC -fvisibility=hidden" CXXFLAGS="-O2 -fPIC -fvisibility=hidden"

pinned() { awk -v name="$1" '$1 == name' "$here/libraries.txt"; }

cat >debian.sources <<END
Types: deb-src
URIs: http://deb.debian.org/debian
Suites: bookworm
Components: main
Signed-By: /usr/share/keyrings/debian-archive-keyring.gpg
END
apt() {
    apt-get -o Dir::Etc::sourcelist="$PWD/debian.sources" -o Dir::Etc::sourceparts=- -o Dir::State::lists="$PWD/lists" \
        -o APT::Get::List-Cleanup=0 -o APT::Sandbox::User="$(id -un)" -qq "$@"
}

unpacked() { # NAME: its sources, fetched and compared, in build/NAME
    local name version archive sum
    read -r name version archive sum <<<"$(pinned "$1")"
    [ -e "$archive" ] || { [ -n "$(ls lists/*Sources* 2>/dev/null)" ] || apt update; apt source --download-only "$name=$version"; }
    echo "$sum  $archive" | sha256sum --check --quiet
    rm -rf "$prefix/build/$name" && mkdir "$prefix/build/$name"
    tar xf "$archive" -C "$prefix/build/$name" --strip-components=1
}

by_cmake() { # NAME OPTION...
    local name=$1
    shift
    cmake -S "$prefix/build/$name" -B "$prefix/build/$name-made" "${tools[@]}" -DCMAKE_BUILD_TYPE=Release \
        -DCMAKE_INSTALL_PREFIX="$prefix" -DCMAKE_INSTALL_LIBDIR=lib -DCMAKE_PREFIX_PATH="$prefix" \
        -DCMAKE_POSITION_INDEPENDENT_CODE=ON -DBUILD_SHARED_LIBS=OFF -Wno-dev "$@" >"$prefix/build/$name.log"
    cmake --build "$prefix/build/$name-made" -j "$jobs" >>"$prefix/build/$name.log"
    cmake --install "$prefix/build/$name-made" >>"$prefix/build/$name.log"
}

one_source() { # NAME OBJECT ARGUMENT...: a library of one source
    local name=$1 library=$2
    shift 2
    mkdir -p "$prefix/lib" "$prefix/include"
    "$compiler" $CXXFLAGS -c "$@" -o "$prefix/build/$name.o"
    "$archiver" rcs "$prefix/lib/$library" "$prefix/build/$name.o"
}

build() {
    case $1 in
    libogg) by_cmake libogg -DINSTALL_DOCS=OFF -DBUILD_TESTING=OFF ;;
    flac) by_cmake flac -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_TESTING=OFF -DBUILD_DOCS=OFF -DBUILD_CXXLIBS=OFF \
        -DINSTALL_MANPAGES=OFF ;;
    libvorbis) by_cmake libvorbis -DBUILD_TESTING=OFF ;;
    libsndfile) by_cmake libsndfile -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_TESTING=OFF -DENABLE_MPEG=OFF \
        -DENABLE_PACKAGE_CONFIG=OFF -DENABLE_EXTERNAL_LIBS=ON ;;
    libzip) by_cmake libzip -DENABLE_COMMONCRYPTO=OFF -DENABLE_GNUTLS=OFF -DENABLE_MBEDTLS=OFF -DENABLE_OPENSSL=OFF \
        -DENABLE_WINDOWS_CRYPTO=OFF -DENABLE_BZIP2=OFF -DENABLE_LZMA=OFF -DENABLE_ZSTD=OFF -DBUILD_TOOLS=OFF \
        -DBUILD_REGRESS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_DOC=OFF ;;
    fmtlib) by_cmake fmtlib -DFMT_DOC=OFF -DFMT_TEST=OFF ;;
    howardhinnant-date)
        one_source date libdate-tz.a -std=c++20 -DUSE_OS_TZDB=$([ "$system" = linux ] && echo 1 || echo 0) -DHAS_REMOTE_API=0 \
            -DAUTO_DOWNLOAD=0 -DONLY_C_LOCALE=1 -DHAS_STRING_VIEW=1 -I"$prefix/build/howardhinnant-date/include" \
            "$prefix/build/howardhinnant-date/src/tz.cpp"
        cp -r "$prefix/build/howardhinnant-date/include/date" "$prefix/include/" ;;
    pugixml) by_cmake pugixml ;;
    sqlite3)
        (cd "$prefix/build/sqlite3" && ./configure >/dev/null 2>&1 && make -s sqlite3.c sqlite3.h >/dev/null)
        compiler="${compiler/g++/gcc}" one_source sqlite3 libsqlite3.a -DSQLITE_THREADSAFE=1 -DSQLITE_OMIT_LOAD_EXTENSION \
            "$prefix/build/sqlite3/sqlite3.c"
        cp "$prefix/build/sqlite3/sqlite3.h" "$prefix/include/" ;;
    sqlitecpp) by_cmake sqlitecpp -DSQLITECPP_INTERNAL_SQLITE=OFF -DSQLITECPP_RUN_CPPLINT=OFF -DSQLITECPP_RUN_CPPCHECK=OFF \
        -DSQLite3_INCLUDE_DIR="$prefix/include" -DSQLite3_LIBRARY="$prefix/lib/libsqlite3.a" ;;
    esac
}

for name in $wanted; do
    [ -e "$prefix/build/$name.done" ] && continue
    echo "$name $(pinned "$name" | cut -d' ' -f2)"
    unpacked "$name"
    build "$name"
    touch "$prefix/build/$name.done"
done

if [ "$system" = windows ] && [ ! -e "$prefix/build/rubberband.done" ]; then # Debian has it static
    read -r _ tag address commit <<<"$(pinned rubberband)"
    echo "rubberband $tag"
    rm -rf rubberband
    git clone -q --no-checkout "${VALVE_LADDER_RUBBERBAND:-$address}" rubberband
    git -C rubberband -c advice.detachedHead=false checkout -q "$commit" # a commit's name is its checksum
    one_source rubberband librubberband.a -std=c++14 -I rubberband/rubberband rubberband/single/RubberBandSingle.cpp
    mkdir -p "$prefix/include/rubberband" && cp rubberband/rubberband/*.h "$prefix/include/rubberband/"
    touch "$prefix/build/rubberband.done"
fi
