#!/usr/bin/env bash
# Builds Valve Ladder for Windows (64 bits, from Windows 10) on Debian 12: the console tool, the VST3 and the program of
# its own, each one file with all libraries inside, and an installer that holds them. All of it lands in build-windows;
# libraries that Debian has not built for Windows are built from its sources first (cmake/libraries), which takes a while.
#   cmake/windows.sh [console|plugin|installer]     default: installer, which includes the others
set -euo pipefail

top=$(cd "$(dirname "${BASH_SOURCE[0]}")/.." && pwd)
wanted=${1:-installer}
cd "$top"
console_libraries=(sqlite3 sqlitecpp fmtlib pugixml libzip libogg libvorbis flac opus libsndfile rubberband libpng1.6
    freetype pixman cairo date cctz googletest)
case $wanted in
console) libraries=("${console_libraries[@]}") options=(-DVALVE_LADDER_PLUGIN=OFF) targets=(valve-ladder) ;;
plugin | installer)
    libraries=("${console_libraries[@]}" libjpeg-turbo)
    options=(-DVALVE_LADDER_PLUGIN=ON)
    targets=(valve-ladder ValveLadder_VST3 ValveLadder_Standalone valve-ladder-demo)
    ;;
*) sed -n '2,6s/^# //p' "${BASH_SOURCE[0]}" >&2; exit 2 ;;
esac

bash cmake/setup.sh cmake/packages.txt cmake/windows-packages.txt
prefix=$top/build-windows/libraries
bash cmake/libraries/build.sh "$prefix" windows "${libraries[@]}"
bash cmake/libraries/headers.sh "$prefix"
cmake --preset windows "${options[@]}"
cmake --build --preset windows -j "${VALVE_LADDER_JOBS:-$(nproc)}" --target "${targets[@]}"
[ "$wanted" = installer ] || exit 0
cmake --build --preset windows --target valve-ladder-texts
cpack --config build-windows/CPackConfig.cmake -G NSIS -B build-windows/installer
ls build-windows/installer/*.exe
