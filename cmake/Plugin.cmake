# The plugin, and the demo that hosts it. Our own sources are compiled once, as a library without JUCE's module
# sources, so that our warnings are errors and JUCE's are not ours to judge.
find_path(READERWRITERQUEUE_INCLUDE readerwriterqueue/readerwriterqueue.h)
if(NOT READERWRITERQUEUE_INCLUDE)
    message(FATAL_ERROR "readerwriterqueue was not found: install the package libreaderwriterqueue-dev.")
endif()

find_package(AbletonLink QUIET HINTS /usr/share/cmake/AbletonLinkConfig)
if(NOT AbletonLink_FOUND)
    message(FATAL_ERROR "Ableton Link was not found: install the package ableton-link-dev, or give "
                        "-DAbletonLink_DIR=<a checkout of Link>.")
endif()

set(pluginSources)
foreach(room Plugin Screen)
    valveladder_room_sources(roomSources ${room})
    list(APPEND pluginSources ${roomSources})
endforeach()
# Entry and program, which are compiled with the plugin itself.
set(pluginEntry ${CMAKE_SOURCE_DIR}/Source/Plugin/Entry.cpp ${CMAKE_SOURCE_DIR}/Source/Plugin/StandaloneApp.cpp)
list(REMOVE_ITEM pluginSources ${pluginEntry})
set(lv2Sources ${pluginSources})
list(FILTER lv2Sources INCLUDE REGEX "/Plugin/Lv2[^/]*\\.cpp$")
list(FILTER pluginSources EXCLUDE REGEX "/Plugin/Lv2[^/]*\\.cpp$")

# The window's type and music symbols travel with the plugin, so that it looks the same on every machine.
set(windowFonts)
foreach(font Bravura Inter-Regular Inter-SemiBold)
    set(fontFile ${CMAKE_SOURCE_DIR}/Resources/fonts/${font}.otf)
    if(WIN32)
        valveladder_quadratic_font(fontFile ${font}.otf)
    endif()
    list(APPEND windowFonts ${fontFile})
endforeach()
juce_add_binary_data(ValveLadderFonts NAMESPACE fontdata HEADER_NAME FontData.h SOURCES ${windowFonts})
set_target_properties(ValveLadderFonts PROPERTIES POSITION_INDEPENDENT_CODE ON)

add_library(valveladder_plugin STATIC ${pluginSources})
target_include_directories(valveladder_plugin SYSTEM PUBLIC ${READERWRITERQUEUE_INCLUDE})
target_link_libraries(valveladder_plugin PUBLIC valveladder_core
                                         PRIVATE valveladder_juce_headers ValveLadderFonts nlohmann_json::nlohmann_json fmt::fmt Ableton::Link)
if(WIN32)
    # What Ableton Link asks of the system.
    target_link_libraries(valveladder_plugin PRIVATE iphlpapi ws2_32 winmm)
endif()
if(CMAKE_SYSTEM_NAME STREQUAL "Linux")
    find_package(X11 REQUIRED) # keys that are the host's
    target_link_libraries(valveladder_plugin PRIVATE X11::X11)
endif()
valveladder_own_sources(valveladder_plugin)
valveladder_compile_together(valveladder_plugin)
valveladder_precompiled_juce(valveladder_plugin)
if(VALVE_LADDER_SANITIZE MATCHES "thread")
    # The queues' fences are not seen by the thread sanitizer, of which GCC warns: it is told of them (see Juce.cmake).
    target_compile_options(valveladder_plugin PUBLIC $<$<COMPILE_LANGUAGE:CXX>:-Wno-tsan>)
endif()

# The helper that writes the LV2's manifest loads it. It cannot load one for another system, nor one with the thread
# sanitizer; with the address sanitizer it can where that comes first.
set(pluginFormats VST3 Standalone)
if(VALVE_LADDER_SANITIZE MATCHES "thread")
    message(STATUS "LV2 is left out of builds with the thread sanitizer")
elseif(NOT CMAKE_CROSSCOMPILING)
    list(APPEND pluginFormats LV2)
endif()
if(APPLE)
    list(APPEND pluginFormats AU)
endif()

set(pluginUri "urn:valveladder:valve-ladder")
juce_add_plugin(ValveLadder
    PRODUCT_NAME "Valve Ladder"
    COMPANY_NAME "Valve Ladder"
    BUNDLE_ID org.valveladder.plugin
    PLUGIN_MANUFACTURER_CODE Vlad
    PLUGIN_CODE Vldr
    DESCRIPTION "Chromatic practice for valved brass: guide, listening, log"
    FORMATS ${pluginFormats}
    IS_SYNTH FALSE
    IS_MIDI_EFFECT FALSE
    NEEDS_MIDI_INPUT TRUE
    NEEDS_MIDI_OUTPUT TRUE
    EDITOR_WANTS_KEYBOARD_FOCUS TRUE
    VST3_CATEGORIES Fx Tools
    AU_MAIN_TYPE kAudioUnitType_MusicEffect
    LV2URI ${pluginUri}
    MICROPHONE_PERMISSION_ENABLED TRUE
    MICROPHONE_PERMISSION_TEXT "Valve Ladder listens to your practice; the sound stays on this computer."
    HARDENED_RUNTIME_ENABLED TRUE # macOS: without the entitlement a signed program hears silence
    HARDENED_RUNTIME_OPTIONS com.apple.security.device.audio-input
    COPY_PLUGIN_AFTER_BUILD FALSE)
# The definition as well, since the 7.0.5 package overrides the argument.
target_compile_definitions(ValveLadder PUBLIC ${VALVE_LADDER_JUCE_DEFINITIONS} JucePlugin_LV2URI="${pluginUri}")
target_compile_definitions(ValveLadder_Standalone PRIVATE JUCE_USE_CUSTOM_PLUGIN_STANDALONE_APP=1) # Plugin/StandaloneApp.cpp
target_sources(ValveLadder PRIVATE ${pluginEntry})
# The Standalone offers JACK beside ALSA. A switch of one file: no class looks otherwise for it.
if(CMAKE_SYSTEM_NAME STREQUAL "Linux")
    get_target_property(deviceSources juce::juce_audio_devices INTERFACE_SOURCES)
    list(FILTER deviceSources INCLUDE REGEX "juce_audio_devices\\.cpp$")
    set_source_files_properties(${deviceSources} PROPERTIES COMPILE_DEFINITIONS "JUCE_JACK=1")
endif()
set_source_files_properties(${pluginEntry} PROPERTIES COMPILE_OPTIONS "${VALVE_LADDER_WARNINGS}")
if(VALVE_LADDER_SANITIZE MATCHES "thread")
    target_compile_options(ValveLadder PRIVATE
        "$<$<COMPILE_LANGUAGE:CXX>:SHELL:-include ${CMAKE_SOURCE_DIR}/cmake/QueueFences.h>")
endif()
valveladder_foreign_sources(ValveLadder)
if(TARGET ValveLadder_LV2)
    include(Lv2)
endif()
if(CMAKE_SYSTEM_NAME STREQUAL "Linux")
    # JUCE's threads are seen to end a moment before they have left their code: it stays when a host lets the plugin go.
    foreach(target ValveLadder_VST3 ValveLadder_LV2)
        if(TARGET ${target})
            target_link_options(${target} PRIVATE -Wl,-z,nodelete)
            # Templates of the C++ library that was linked in would be seen, whatever else is hidden.
            if(VALVE_LADDER_STATIC_LIBRARIES)
                target_link_options(${target} PRIVATE -Wl,--version-script=${CMAKE_SOURCE_DIR}/cmake/plugin-entries.map)
            endif()
        endif()
    endforeach()
endif()
target_link_libraries(ValveLadder PRIVATE juce::juce_audio_utils
                                  PUBLIC valveladder_plugin valveladder_juce_codecs juce::juce_recommended_config_flags)

file(GLOB demoSources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/Source/Demo/*.h ${CMAKE_SOURCE_DIR}/Source/Demo/*.cpp)
if(demoSources)
    add_executable(valve-ladder-demo ${demoSources})
    target_link_libraries(valve-ladder-demo PRIVATE valveladder_plugin valveladder_core valveladder_paper valveladder_juce
                                                    valveladder_juce_headers CLI11::CLI11 fmt::fmt)
    valveladder_own_sources(valve-ladder-demo)
    valveladder_compile_together(valve-ladder-demo)
    valveladder_precompiled_juce(valve-ladder-demo)
    add_dependencies(valve-ladder-demo ValveLadder_VST3)
    if(WIN32)
        valveladder_windows_program(valve-ladder-demo)
    endif()
endif()
