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

# A font of Resources as Windows draws it whole (cmake/windows/quadratic.py): sets VARIABLE to the file made. By Debian's own
# Python, which has Debian's modules.
find_program(DEBIAN_PYTHON python3 PATHS /usr/bin NO_DEFAULT_PATH REQUIRED)
function(valveladder_quadratic_font variable font)
    set(made ${CMAKE_BINARY_DIR}/windows/fonts/${font})
    file(MAKE_DIRECTORY ${CMAKE_BINARY_DIR}/windows/fonts)
    set(script ${CMAKE_SOURCE_DIR}/cmake/windows/quadratic.py)
    set(source ${CMAKE_SOURCE_DIR}/Resources/fonts/${font})
    # Now, since JUCE wants the file to be there when it is asked to take it in.
    execute_process(COMMAND ${DEBIAN_PYTHON} ${script} ${source} ${made} RESULT_VARIABLE failed)
    if(failed)
        message(FATAL_ERROR "${source} could not be made quadratic: install the package python3-fonttools.")
    endif()
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${script} ${source})
    set(${variable} ${made} PARENT_SCOPE)
endfunction()
