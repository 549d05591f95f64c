# What a program for Windows carries: its version, paths as long and in whatever letters Windows has them.
enable_language(RC)
function(valveladder_windows_program target)
    configure_file(${CMAKE_SOURCE_DIR}/cmake/windows/program.rc.in ${CMAKE_BINARY_DIR}/windows/program.rc @ONLY)
    target_sources(${target} PRIVATE ${CMAKE_BINARY_DIR}/windows/program.rc)
endfunction()
# What there is as a DLL as well (zlib) is linked in.
set(CMAKE_FIND_LIBRARY_SUFFIXES .a)
# Some libraries' own builds ask for checked copies of memory, which are in a library of the compiler's.
string(APPEND CMAKE_CXX_STANDARD_LIBRARIES " -lssp")

# GNU ld takes minutes over the sections of a program's templates, LLVM's linker seconds: it links where it is installed.
find_program(LLD ld.lld)
if(LLD)
    # A compiler for another system looks for it under this name in folders of its own alone.
    file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/linker)
    file(CREATE_LINK ${LLD} ${CMAKE_BINARY_DIR}/linker/ld.lld SYMBOLIC)
    add_link_options(-B${CMAKE_BINARY_DIR}/linker -fuse-ld=lld)
endif()
