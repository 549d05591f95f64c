# Language, warnings and sanitizers: one place for every target of our own.
set(CMAKE_CXX_STANDARD 20)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_POSITION_INDEPENDENT_CODE ON)
set(CMAKE_CXX_VISIBILITY_PRESET hidden)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
if(NOT CMAKE_BUILD_TYPE AND NOT CMAKE_CONFIGURATION_TYPES)
    set(CMAKE_BUILD_TYPE Release CACHE STRING "Build type" FORCE)
endif()

find_program(CCACHE_PROGRAM ccache)
if(CCACHE_PROGRAM AND NOT CMAKE_CXX_COMPILER_LAUNCHER)
    set(CMAKE_C_COMPILER_LAUNCHER ${CCACHE_PROGRAM})
    set(CMAKE_CXX_COMPILER_LAUNCHER ${CCACHE_PROGRAM})
endif()

if(MSVC)
    set(VALVE_LADDER_WARNINGS /W4 /WX)
else()
    set(VALVE_LADDER_WARNINGS -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Werror)
    if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
        # GCC 12 sees overlaps in std::string concatenation that are not there (GCC bug 105651).
        list(APPEND VALVE_LADDER_WARNINGS -Wno-restrict)
        if(VALVE_LADDER_SANITIZE)
            # Instrumented, std::regex seems uninitialised to it (GCC bug 105562).
            list(APPEND VALVE_LADDER_WARNINGS -Wno-maybe-uninitialized)
        endif()
    endif()
endif()

if(VALVE_LADDER_STATIC_LIBRARIES AND CMAKE_SYSTEM_NAME STREQUAL "Linux")
    # What is linked in stays ours: a host, or another plugin, may have the same library in another version.
    add_link_options(-static-libstdc++ -static-libgcc -Wl,--exclude-libs,ALL -Wl,--gc-sections)
    # JUCE asks for some libraries by name alone: they are the static ones.
    foreach(prefix ${CMAKE_PREFIX_PATH})
        add_link_options(-L${prefix}/lib)
    endforeach()
endif()

if(VALVE_LADDER_SANITIZE)
    add_compile_options(-fsanitize=${VALVE_LADDER_SANITIZE} -fno-omit-frame-pointer)
    add_link_options(-fsanitize=${VALVE_LADDER_SANITIZE})
    if(VALVE_LADDER_SANITIZE MATCHES "address")
        # For programs of others that load what was built: it must be in them first.
        execute_process(COMMAND ${CMAKE_CXX_COMPILER} -print-file-name=libasan.so
                        OUTPUT_VARIABLE VALVE_LADDER_ADDRESS_SANITIZER OUTPUT_STRIP_TRAILING_WHITESPACE)
        file(REAL_PATH ${VALVE_LADDER_ADDRESS_SANITIZER} VALVE_LADDER_ADDRESS_SANITIZER)
    endif()
    if(VALVE_LADDER_SANITIZE MATCHES "undefined")
        add_compile_options(-fno-sanitize-recover=undefined)
    endif()
endif()

# Sources of packages that a target compiles along are not looked into: what is sought are faults of ours, and most
# of the build's time goes into them. What they allocate, free and lock is seen all the same.
function(valveladder_foreign_sources target)
    if(VALVE_LADDER_SANITIZE)
        target_compile_options(${target} PRIVATE -fno-sanitize=all -g0)
    endif()
endfunction()

# A room's sources for this system: what ends in Posix.cpp or Windows.cpp does for one what its twin does for the other.
function(valveladder_room_sources result room)
    file(GLOB sources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/Source/${room}/*.h ${CMAKE_SOURCE_DIR}/Source/${room}/*.cpp)
    if(WIN32)
        list(FILTER sources EXCLUDE REGEX "Posix\\.cpp$")
    else()
        list(FILTER sources EXCLUDE REGEX "Windows\\.cpp$")
    endif()
    set(${result} ${sources} PARENT_SCOPE)
endfunction()

# Warnings as errors on sources of our own; what comes from packages is not ours to judge.
function(valveladder_own_sources target)
    target_compile_options(${target} PRIVATE ${VALVE_LADDER_WARNINGS})
endfunction()

# Sources of a room compiled together, a few at a time: most of a source's time goes into headers that its neighbours read
# as well. Names of one source are then seen in the next, so that two of a group cannot have the same.
function(valveladder_compile_together target)
    if(NOT VALVE_LADDER_TOGETHER)
        return()
    endif()
    set(sourcesTogether 8)
    get_target_property(sources ${target} SOURCES)
    list(FILTER sources INCLUDE REGEX "^${CMAKE_SOURCE_DIR}/Source/.*\\.cpp$")
    foreach(source ${sources})
        cmake_path(GET source PARENT_PATH folder)
        cmake_path(GET folder FILENAME room)
        if(NOT DEFINED count_${room})
            set(count_${room} 0)
        endif()
        math(EXPR group "${count_${room}} / ${sourcesTogether}")
        math(EXPR count_${room} "${count_${room}} + 1")
        set_source_files_properties(${source} PROPERTIES UNITY_GROUP ${room}${group})
    endforeach()
    set_target_properties(${target} PROPERTIES UNITY_BUILD ON UNITY_BUILD_MODE GROUP)
    # What a source calls its own may be hidden by a neighbour's parameter, and may be the type of a neighbour's member.
    target_compile_options(${target} PRIVATE $<$<CXX_COMPILER_ID:GNU>:-Wno-shadow> $<$<CXX_COMPILER_ID:GNU>:-Wno-subobject-linkage>)
endfunction()
