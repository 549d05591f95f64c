# The LV2 behind an entry of our own (Source/Plugin/Lv2Entry.cpp). JUCE's two entry points get other names, and one
# line of it is put right: for each block that is longer than the one before, JUCE 7 makes its buffer anew, on the
# audio thread, to keep what it held, though it fills all of it afterwards.
get_target_property(juceModules juce::juce_audio_plugin_client INTERFACE_JUCE_MODULE_PATH)
set(lv2Client ${juceModules}/juce_audio_plugin_client/juce_audio_plugin_client_LV2.cpp)
set(lv2ClientCode ${juceModules}/juce_audio_plugin_client/LV2/juce_LV2_Client.cpp) # what that includes
set(lv2Headers ${juceModules}/juce_audio_processors/format_types/LV2_SDK/lv2)
foreach(needed ${lv2Client} ${lv2Headers}/lv2/core/lv2.h)
    if(NOT EXISTS ${needed})
        message(FATAL_ERROR "This JUCE has no ${needed}, which the LV2 plugin is built from. Give another JUCE 7 or 8 by "
                            "-DVALVE_LADDER_JUCE_DIR=<a checkout>, or see cmake/Lv2.cmake for what is wanted of it.")
    endif()
endforeach()
if(NOT EXISTS ${lv2ClientCode})
    set(lv2ClientCode ${lv2Client})
endif()
file(READ ${lv2ClientCode} lv2ClientText)
string(REPLACE "static_cast<int> (numSteps), true, false, true)" "static_cast<int> (numSteps), false, false, true)"
       lv2ClientPutRight "${lv2ClientText}")
if(NOT lv2ClientPutRight STREQUAL lv2ClientText)
    set_source_files_properties(${lv2Client} PROPERTIES HEADER_FILE_ONLY TRUE)
    set(lv2Client ${CMAKE_CURRENT_BINARY_DIR}/juce_LV2_Client.cpp)
    file(CONFIGURE OUTPUT ${lv2Client} CONTENT "@lv2ClientPutRight@" @ONLY)
    target_sources(ValveLadder_LV2 PRIVATE ${lv2Client})
else()
    message(STATUS "This JUCE's LV2 client is compiled as it is: see cmake/Lv2.cmake and `AudioThreadLv2`.")
endif()
set_source_files_properties(${lv2Client} PROPERTIES COMPILE_DEFINITIONS
    "lv2_descriptor=valveladder_juce_lv2_descriptor;lv2ui_descriptor=valveladder_juce_lv2ui_descriptor")
target_sources(ValveLadder_LV2 PRIVATE ${lv2Sources})
target_include_directories(ValveLadder_LV2 SYSTEM PRIVATE ${lv2Headers})
set(lv2Options ${VALVE_LADDER_WARNINGS})
if(VALVE_LADDER_SANITIZE MATCHES "undefined")
    # LV2 wants atoms where eight divides; jalv 1.6 hands over sequences where four does, and JUCE and LV2's own macros read
    # them alike: processors that JUCE runs on do.
    list(APPEND lv2Options -fno-sanitize=alignment)
    set_source_files_properties(${lv2Client} PROPERTIES COMPILE_OPTIONS -fno-sanitize=alignment)
endif()
set_source_files_properties(${lv2Sources} PROPERTIES COMPILE_OPTIONS "${lv2Options}")

if(VALVE_LADDER_ADDRESS_SANITIZER)
    get_target_property(lv2Helper juce::juce_lv2_helper IMPORTED_LOCATION_NONE)
    if(lv2Helper)
        set(preloadingHelper ${CMAKE_BINARY_DIR}/lv2-helper.sh)
        file(CONFIGURE OUTPUT ${preloadingHelper} @ONLY CONTENT
             "#!/bin/sh\nLD_PRELOAD=@VALVE_LADDER_ADDRESS_SANITIZER@ ASAN_OPTIONS=detect_leaks=0 exec @lv2Helper@ \"$@\"\n")
        file(CHMOD ${preloadingHelper} PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE)
        set_target_properties(juce::juce_lv2_helper PROPERTIES IMPORTED_LOCATION_NONE ${preloadingHelper})
    endif()
endif()

# What JUCE writes about the plugin, put right.
add_custom_command(TARGET ValveLadder_LV2 POST_BUILD
    COMMAND ${CMAKE_COMMAND} -DBUNDLE=$<TARGET_FILE_DIR:ValveLadder_LV2> -P ${CMAKE_SOURCE_DIR}/cmake/Lv2Metadata.cmake
    VERBATIM)
