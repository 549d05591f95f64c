# The LV2 behind an entry of our own (Source/Plugin/Lv2Entry.cpp). JUCE's source is compiled as it is, but its two
# entry points get other names.
get_target_property(juceModules juce::juce_audio_plugin_client INTERFACE_JUCE_MODULE_PATH)
set(lv2Client ${juceModules}/juce_audio_plugin_client/juce_audio_plugin_client_LV2.cpp)
set(lv2Headers ${juceModules}/juce_audio_processors/format_types/LV2_SDK/lv2)
foreach(needed ${lv2Client} ${lv2Headers}/lv2/core/lv2.h)
    if(NOT EXISTS ${needed})
        message(FATAL_ERROR "This JUCE has no ${needed}, which the LV2 plugin is built from. Give another JUCE 7 or 8 by "
                            "-DVALVE_LADDER_JUCE_DIR=<a checkout>, or see cmake/Lv2.cmake for what is wanted of it.")
    endif()
endforeach()
set_source_files_properties(${lv2Client} PROPERTIES COMPILE_DEFINITIONS
    "lv2_descriptor=valveladder_juce_lv2_descriptor;lv2ui_descriptor=valveladder_juce_lv2ui_descriptor")
target_sources(ValveLadder_LV2 PRIVATE ${lv2Sources})
target_include_directories(ValveLadder_LV2 SYSTEM PRIVATE ${lv2Headers})
set_source_files_properties(${lv2Sources} PROPERTIES COMPILE_OPTIONS "${VALVE_LADDER_WARNINGS}")

# What JUCE writes about the plugin, put right.
add_custom_command(TARGET ValveLadder_LV2 POST_BUILD
    COMMAND ${CMAKE_COMMAND} -DBUNDLE=$<TARGET_FILE_DIR:ValveLadder_LV2> -P ${CMAKE_SOURCE_DIR}/cmake/Lv2Metadata.cmake
    VERBATIM)
