#!/usr/bin/env bash
# Makes the portable archive for Linux: console, plugins and program with all libraries linked in but those that every desktop
# has (the C library from Debian 12's on, X11, ALSA). The others are built from Debian's sources first (cmake/libraries).
# The archive lands in build-portable/archive.
#   cmake/portable.sh
set -euo pipefail

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
cd "$top"
bash cmake/setup.sh cmake/packages.txt cmake/portable-packages.txt
bash cmake/libraries/build.sh build-portable/libraries native zlib sqlite3 sqlitecpp fmtlib pugixml libzip libogg libvorbis flac \
    opus libsndfile rubberband libpng1.6 libjpeg-turbo freetype pixman cairo date
cmake --preset portable
cmake --build --preset portable -j "${VALVE_LADDER_JOBS:-$(nproc)}"
cpack --config build-portable/CPackConfig.cmake -G TGZ -B build-portable/archive
ls build-portable/archive/*.tar.gz
