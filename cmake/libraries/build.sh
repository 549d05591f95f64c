#!/usr/bin/env bash
# Builds libraries from pinned sources (sources.txt) as static ones, into PREFIX. What was built from the same sources by
# the same recipes is kept.
#   build.sh PREFIX native|windows NAME...
set -euo pipefail

here=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
top=$(cd "$here/../.." && pwd)
mkdir -p "$1" && prefix=$(cd "$1" && pwd)
system=$2
shift 2
sources=$top/build-sources
work=$prefix/build
parts=() # folders of a source that are built; none: all
jobs=${VALVE_LADDER_JOBS:-$(nproc)}
export PKG_CONFIG_LIBDIR=$prefix/lib/pkgconfig PKG_CONFIG_PATH=

# Sections, so that what is not used is left out where it is linked. NDEBUG: FLAC would write of the processor at each start.
flags="-O2 -DNDEBUG -ffunction-sections -fdata-sections -fPIC"
toolchain=()
case $system in
native) host=$(gcc -dumpmachine) cc=gcc cxx=g++ ar=ar ;;
windows)
    host=x86_64-w64-mingw32
    cc=$host-gcc-posix cxx=$host-g++-posix ar=$host-ar
    toolchain=("-DCMAKE_TOOLCHAIN_FILE=$top/cmake/windows-toolchain.cmake")
    flags="-O2 -DNDEBUG -ffunction-sections -fdata-sections -DFLAC__NO_DLL -DZIP_STATIC" # no library of these is a DLL
    export PKG_CONFIG_LIBDIR=$PKG_CONFIG_LIBDIR:/usr/$host/lib/pkgconfig # zlib, which is packaged
    ;;
*) echo "build.sh knows native and windows, not $system" >&2; exit 2 ;;
esac
launcher=()
command -v ccache >/dev/null && launcher=(ccache) && cc="ccache $cc" cxx="ccache $cxx"

by_cmake() { # NAME OPTION...
    local name=$1
    shift
    cmake -S "$sources/$name" -B "$work/$name" -G Ninja "${toolchain[@]}" -DCMAKE_BUILD_TYPE=None -DCMAKE_C_FLAGS="$flags" \
        -DCMAKE_CXX_FLAGS="$flags" ${launcher:+-DCMAKE_C_COMPILER_LAUNCHER=ccache -DCMAKE_CXX_COMPILER_LAUNCHER=ccache} \
        -DCMAKE_INSTALL_PREFIX="$prefix" -DCMAKE_INSTALL_LIBDIR=lib -DCMAKE_PREFIX_PATH="$prefix" -DBUILD_SHARED_LIBS=OFF \
        -DCMAKE_POSITION_INDEPENDENT_CODE=ON -DBUILD_TESTING=OFF -Wno-dev "$@"
    cmake --build "$work/$name" -j "$jobs"
    cmake --install "$work/$name"
}

by_configure() { # NAME OPTION...
    local name=$1
    shift
    # Debian's patches make what autotools wrote look old; it is good as it is.
    local make=(make -j "$jobs" ACLOCAL=: AUTOCONF=: AUTOMAKE=: AUTOHEADER=: SUBDIRS="${parts[*]}")
    [ ${#parts[@]} -gt 0 ] || unset 'make[-1]'
    mkdir -p "$work/$name"
    (cd "$work/$name" && "$sources/$name/configure" --host="$host" --prefix="$prefix" --disable-shared --enable-static \
        CC="$cc" CFLAGS="$flags" "$@" && "${make[@]}" && "${make[@]}" install)
}

archive() { # LIBRARY NAME VERSION PRIVATE_LIBS: of the objects in the folder of NAME, with its pkg-config file
    rm -f "$prefix/lib/lib$1.a"
    mkdir -p "$prefix/lib/pkgconfig"
    $ar rcs "$prefix/lib/lib$1.a" "$work/$2"/*.o
    printf 'prefix=%s\nName: %s\nDescription: %s\nVersion: %s\nLibs: -L${prefix}/lib -l%s\nCflags: -I${prefix}/include\n' \
        "$prefix" "$1" "$1" "$3" "$1" >"$prefix/lib/pkgconfig/$1.pc"
}

build_sqlite3() { # its one source is made here, as upstream makes it
    mkdir -p "$work/sqlite3"
    (cd "$work/sqlite3" && "$sources/sqlite3/configure" --disable-tcl --disable-readline >/dev/null && make sqlite3.c >/dev/null &&
        $cc $flags -DSQLITE_ENABLE_COLUMN_METADATA -DSQLITE_SECURE_DELETE -c sqlite3.c -o sqlite3.o)
    install -D -m 644 -t "$prefix/include" "$work/sqlite3/sqlite3.h" "$sources/sqlite3/src/sqlite3ext.h"
    archive sqlite3 sqlite3 "$(cat "$sources/sqlite3/VERSION")"
}
build_sqlitecpp() {
    by_cmake sqlitecpp -DSQLITECPP_INTERNAL_SQLITE=OFF -DSQLITECPP_RUN_CPPLINT=OFF -DSQLITECPP_RUN_CPPCHECK=OFF \
        -DSQLITECPP_USE_STACK_PROTECTION=OFF
}
build_fmtlib() { by_cmake fmtlib -DFMT_TEST=OFF -DFMT_DOC=OFF; }
build_pugixml() { by_cmake pugixml; }
build_libzip() {
    by_cmake libzip -DENABLE_COMMONCRYPTO=OFF -DENABLE_GNUTLS=OFF -DENABLE_MBEDTLS=OFF -DENABLE_OPENSSL=OFF \
        -DENABLE_WINDOWS_CRYPTO=OFF -DENABLE_BZIP2=OFF -DENABLE_LZMA=OFF -DBUILD_TOOLS=OFF -DBUILD_REGRESS=OFF \
        -DBUILD_EXAMPLES=OFF -DBUILD_DOC=OFF
    printf 'prefix=%s\nName: libzip\nDescription: zip archives\nVersion: 1.7.3\nRequires.private: zlib\nLibs: -L${prefix}/lib -lzip\nCflags: -I${prefix}/include -DZIP_STATIC\n' \
        "$prefix" >"$prefix/lib/pkgconfig/libzip.pc" # its own names no zlib and no static build
}
build_libogg() { by_cmake libogg -DINSTALL_DOCS=OFF; }
build_libvorbis() { by_cmake libvorbis; }
build_flac() {
    by_cmake flac -DBUILD_CXXLIBS=OFF -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF -DBUILD_DOCS=OFF -DINSTALL_MANPAGES=OFF \
        -DWITH_STACK_PROTECTOR=OFF -DWITH_FORTIFY_SOURCE=OFF
    sed -i '/^Cflags:/s/$/ -DFLAC__NO_DLL/' "$prefix/lib/pkgconfig/flac.pc" # for JUCE, which is not built here
}
build_opus() { by_configure opus --disable-doc --disable-extra-programs --disable-stack-protector; }
build_libsndfile() {
    by_cmake libsndfile -DENABLE_EXTERNAL_LIBS=ON -DENABLE_MPEG=OFF -DBUILD_PROGRAMS=OFF -DBUILD_EXAMPLES=OFF -DENABLE_CPACK=OFF \
        -DINSTALL_MANPAGES=OFF
}
build_rubberband() { # by its single source, with its own transforms
    mkdir -p "$work/rubberband"
    $cxx -std=c++17 $flags -c "$sources/rubberband/single/RubberBandSingle.cpp" -o "$work/rubberband/single.o"
    install -D -m 644 -t "$prefix/include/rubberband" "$sources"/rubberband/rubberband/*.h
    archive rubberband rubberband 3.3.0
}
build_zlib() { # for Linux; Debian packages it for Windows
    mkdir -p "$work/zlib"
    (cd "$work/zlib" && CC="$cc" CFLAGS="$flags" "$sources/zlib/configure" --static --prefix="$prefix" && make -j "$jobs" libz.a &&
        make install)
}
build_libpng1.6() { by_cmake libpng1.6 -DPNG_SHARED=OFF -DPNG_TESTS=OFF; }
build_libjpeg-turbo() {
    by_cmake libjpeg-turbo -DENABLE_SHARED=OFF -DWITH_SIMD=OFF -DWITH_TURBOJPEG=OFF -DCMAKE_INSTALL_LIBDIR="$prefix/lib"
    install -m 644 -t "$prefix/include" "$sources/libjpeg-turbo/jpegint.h" # JUCE asks for it; Debian installs it as well
    # For Windows "boolean" is declared but where Windows' own header was read, outside the namespace that JUCE puts it into.
    sed -i '/^#ifndef __RPCNDR_H__/,/^#endif/{/^#/d}' "$prefix/include/jconfig.h"
}
build_freetype() {
    by_cmake freetype -DFT_DISABLE_HARFBUZZ=ON -DFT_DISABLE_BROTLI=ON -DFT_DISABLE_BZIP2=ON -DFT_REQUIRE_ZLIB=ON -DFT_REQUIRE_PNG=ON
}
build_pixman() { by_configure pixman --disable-gtk --disable-libpng --disable-openmp; }
build_cairo() { # sheets alone: vectors, and fonts that are inside the program
    local parts=(src)
    by_configure cairo --enable-ft=yes --disable-fc --enable-pdf=yes --enable-svg=yes --enable-png=yes --disable-xlib --disable-xcb \
        --disable-ps --disable-script --disable-interpreter --disable-gobject --disable-trace --disable-win32 --disable-win32-font \
        --disable-gtk-doc --disable-full-testing --disable-valgrind
}
build_date() {
    by_cmake date -DBUILD_TZ_LIB="$([ "$system" = windows ] && echo OFF || echo ON)" -DUSE_SYSTEM_TZ_DB=ON -DENABLE_DATE_TESTING=OFF
}
build_cctz() {
    mkdir -p "$work/cctz"
    for source in "$sources"/cctz/src/{civil_time_detail,time_zone_fixed,time_zone_format,time_zone_if,time_zone_impl,time_zone_info,time_zone_libc,time_zone_lookup,time_zone_posix,zone_info_source}.cc; do
        $cxx -std=c++17 $flags -I"$sources/cctz/include" -c "$source" -o "$work/cctz/$(basename "$source" .cc).o"
    done
    install -D -m 644 -t "$prefix/include/cctz" "$sources"/cctz/include/cctz/*.h
    archive cctz cctz 2.4
}
build_googletest() { by_cmake googletest; }

mkdir -p "$work" "$prefix/lib/pkgconfig"
bash "$here/fetch.sh" "$sources" "$@"
for name in "$@"; do
    # The sources and the recipe of this one alone say whether it has to be built anew.
    made=$(cat "$sources/$name.sum"; echo "$flags"; declare -f "build_$name" by_cmake by_configure archive)
    [ "$(cat "$work/$name.made" 2>/dev/null)" = "$made" ] && continue
    echo "building $name"
    rm -rf "${work:?}/$name" "$work/$name.made"
    # In a shell of its own, and not in a condition, which would switch off that it stops at the first failure.
    set +e
    (set -e && "build_$name") >"$work/$name.log" 2>&1
    failed=$?
    set -e
    [ $failed -eq 0 ] || { tail -n 30 "$work/$name.log"; echo "$name could not be built: $work/$name.log" >&2; exit 1; }
    echo "$made" >"$work/$name.made"
done
