#!/usr/bin/env bash
# What programs and plugin for Windows ask for at their start: DLLs that every Windows has, and none of the compiler's or
# of a library.
#   imports.sh BUILD
source "$(dirname "${BASH_SOURCE[0]}")/wine.bash" "$1"
needs "$build/valve-ladder.exe"
system='^(advapi32|bcrypt|cabinet|comctl32|comdlg32|dnsapi|dwmapi|gdi32|imm32|iphlpapi|kernel32|msimg32|msvcrt|ole32|oleaut32|rpcrt4|setupapi|shell32|shlwapi|user32|userenv|version|wininet|winmm|ws2_32|wsock32|d2d1|dwrite|opengl32|uxtheme|avrt|dxgi|d3d11)\.dll$'
found=0
while IFS= read -r -d '' file; do
    found=$((found + 1))
    imports=$(x86_64-w64-mingw32-objdump -p "$file" | sed -n 's/^\tDLL Name: //p' | tr 'A-Z' 'a-z' | sort -u)
    echo "$(basename "$file"), $(($(stat -c %s "$file") / 1024)) kB:" $imports
    others=$(grep -vE "$system" <<<"$imports" || true)
    [ -z "$others" ] || fail "$file asks for $others"
done < <(find "$build" -path "$build/libraries" -prune -o \( -name 'valve-ladder.exe' -o -path '*ValveLadder_artefacts*.exe' -o -path '*x86_64-win*.vst3' -o -name 'valve-ladder-demo.exe' \) -type f -print0)
[ "$found" -gt 0 ] || fail "nothing was found in $build"
