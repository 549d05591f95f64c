# JUCE from a given stock checkout (7 or 8), or the installed package.
if(VALVE_LADDER_JUCE_DIR)
    if(NOT EXISTS "${VALVE_LADDER_JUCE_DIR}/modules/juce_core")
        message(FATAL_ERROR "VALVE_LADDER_JUCE_DIR is ${VALVE_LADDER_JUCE_DIR}, which holds no JUCE modules: "
                            "give the top folder of a JUCE 7 or 8 checkout.")
    endif()
    add_subdirectory("${VALVE_LADDER_JUCE_DIR}" "${CMAKE_BINARY_DIR}/juce" EXCLUDE_FROM_ALL)
else()
    file(GLOB jucePackages /usr/lib/*/cmake/JUCE-*) # its sources and helper serve every system
    find_package(JUCE CONFIG HINTS ${jucePackages} NO_CMAKE_FIND_ROOT_PATH)
    if(NOT JUCE_FOUND)
        message(FATAL_ERROR "JUCE was not found: install the packages juce-modules-source and juce-tools, or give "
                            "-DVALVE_LADDER_JUCE_DIR=<a JUCE checkout>, or -DVALVE_LADDER_PLUGIN=OFF for all but the plugin.")
    endif()
endif()

# The installed package has its codecs taken out: they are linked here. A stock checkout brings its own.
add_library(valveladder_juce_codecs INTERFACE)
if(NOT VALVE_LADDER_JUCE_DIR)
    find_package(PkgConfig REQUIRED)
    find_package(JPEG REQUIRED)
    pkg_check_modules(JuceCodecs REQUIRED IMPORTED_TARGET flac vorbisfile vorbisenc vorbis ogg libpng zlib)
    target_link_libraries(valveladder_juce_codecs INTERFACE PkgConfig::JuceCodecs JPEG::JPEG)
endif()

# One set of switches for every target, so that a JUCE class has one layout everywhere.
set(VALVE_LADDER_JUCE_DEFINITIONS
    JUCE_WEB_BROWSER=0
    JUCE_USE_CURL=0
    JUCE_LOAD_CURL_SYMBOLS_LAZILY=0
    JUCE_DISPLAY_SPLASH_SCREEN=0
    JUCE_REPORT_APP_USAGE=0
    JUCE_STRICT_REFCOUNTEDPOINTER=1
    JUCE_VST3_CAN_REPLACE_VST2=0
    JUCE_MODAL_LOOPS_PERMITTED=0)

# JUCE's modules compiled once, with hosting of VST3 and LV2: for the tests and the demo.
add_library(valveladder_juce STATIC)
target_link_libraries(valveladder_juce PRIVATE juce::juce_audio_processors valveladder_juce_codecs)
if(VALVE_LADDER_TOGETHER AND NOT MSVC)
    target_compile_options(valveladder_juce PRIVATE -O0) # what hosts the plugin has time; whoever waits for the build has not
else()
    target_link_libraries(valveladder_juce PRIVATE juce::juce_recommended_config_flags)
endif()
target_compile_definitions(valveladder_juce PRIVATE ${VALVE_LADDER_JUCE_DEFINITIONS} JUCE_STANDALONE_APPLICATION=1
                                                    JUCE_PLUGINHOST_VST3=1 JUCE_PLUGINHOST_LV2=1)
valveladder_foreign_sources(valveladder_juce)

# What our own sources see of JUCE: its headers as system headers, without its sources and without linking.
add_library(valveladder_juce_headers INTERFACE)
target_include_directories(valveladder_juce_headers SYSTEM INTERFACE
    $<TARGET_PROPERTY:valveladder_juce,INCLUDE_DIRECTORIES>)
target_compile_definitions(valveladder_juce_headers INTERFACE
    $<TARGET_PROPERTY:valveladder_juce,COMPILE_DEFINITIONS> JUCE_GLOBAL_MODULE_SETTINGS_INCLUDED=1)

# JUCE's headers cost most of a source's build time here: in sanitized builds they are read once for each target
# that asks for it. Not in optimised ones: in precompiled headers GCC 12 takes std::string for its caller's and warns
# of overflows that are not there.
function(valveladder_precompiled_juce target)
    if(VALVE_LADDER_SANITIZE MATCHES "thread")
        target_precompile_headers(${target} PRIVATE ${CMAKE_SOURCE_DIR}/cmake/QueueFences.h)
    endif()
    if(VALVE_LADDER_SANITIZE)
        target_precompile_headers(${target} PRIVATE <juce_audio_processors/juce_audio_processors.h>)
    endif()
endfunction()
