#!/usr/bin/env bash
# Makes the portable archive: plugin, program and console with other libraries linked in, for any desktop Linux with a C
# library as new as Debian 12's (2.36).
#   cmake/portable.sh [FOLDER]      where the archive goes; default: build-portable
set -euo pipefail

cd "$(dirname "${BASH_SOURCE[0]}")/.."
folder=$(mkdir -p "${1:-build-portable}" && cd "${1:-build-portable}" && pwd)
bash cmake/libraries.sh linux build-portable/libraries
cmake --preset portable
cmake --build --preset portable
cpack -G TGZ --config build-portable/CPackConfig.cmake -B "$folder/packing" >build-portable/cpack.log
mv "$folder"/packing/*.tar.gz "$folder/"
rm -r "$folder/packing"
ls "$folder"/*.tar.gz
