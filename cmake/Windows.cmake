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

# GNU ld takes minutes over the sections of a program's templates: LLVM's linker links where it is installed. Debian's compiler
# goes on with GNU ld whatever -fuse-ld says, so it is given its last step, which calls the linker, by another name.
find_program(LLD ld.lld)
if(LLD)
    set(linkStep ${CMAKE_BINARY_DIR}/linker/collect2)
    file(CONFIGURE OUTPUT ${linkStep} CONTENT "#!/bin/sh\nexec '${LLD}' \"\$@\"\n")
    file(CHMOD ${linkStep} PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
    add_link_options(-B${CMAKE_BINARY_DIR}/linker)
endif()
