#!/usr/bin/env bash
# Lays headers of Debian's packages that are nothing but headers into PREFIX, where a compiler for another system can use
# them: the folder that they are installed in holds this system's own headers as well.
#   headers.sh PREFIX          for Windows
set -euo pipefail

mkdir -p "$1/include" "$1/lib/cmake"
prefix=$(cd "$1" && pwd)
for name in boost CLI nlohmann ableton asio asio.hpp readerwriterqueue eigen3; do
    [ -e "/usr/include/$name" ] || { echo "/usr/include/$name is not there: bash cmake/setup.sh cmake/packages.txt" >&2; exit 1; }
    ln -sfn "/usr/include/$name" "$prefix/include/$name"
done
for folder in cmake/CLI11 cmake/nlohmann_json cmake/AbletonLinkConfig eigen3; do
    rm -rf "$prefix/lib/cmake/$(basename $folder)"
    cp -r "/usr/share/$folder" "$prefix/lib/cmake/"
done
mv "$prefix"/lib/cmake/eigen3/cmake/*.cmake "$prefix/lib/cmake/eigen3/"
# This one names the folder itself.
sed -i "s|/usr/include|$prefix/include|" "$prefix"/lib/cmake/AbletonLinkConfig/*.cmake
# On Windows names of files are the same in capitals: what is asked for so is spelled so here.
for name in WS2tcpip.h WinSock2.h Windows.h; do
    echo "#include <${name,,}>" >"$prefix/include/$name"
done
