# The plugin where hosts look, and the program of its own with what a desktop shows of it.
if(APPLE)
    set(pluginFolders VST3 "Library/Audio/Plug-Ins/VST3" AU "Library/Audio/Plug-Ins/Components" LV2 "Library/Audio/Plug-Ins/LV2")
elseif(WIN32)
    set(pluginFolders VST3 VST3 LV2 LV2)
else()
    # Not below a folder of the processor's: hosts look in lib/vst3 and lib/lv2 of /usr and /usr/local.
    set(pluginFolders VST3 lib/vst3 LV2 lib/lv2)
endif()
while(pluginFolders)
    list(POP_FRONT pluginFolders format folder)
    if(TARGET ValveLadder_${format})
        get_target_property(bundle ValveLadder_${format} JUCE_PLUGIN_ARTEFACT_FILE)
        install(DIRECTORY ${bundle} DESTINATION ${folder})
        get_filename_component(bundleName ${bundle} NAME)
        install(CODE "
            if(CMAKE_INSTALL_DO_STRIP)
                file(GLOB_RECURSE libraries \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${folder}/${bundleName}/*${CMAKE_SHARED_MODULE_SUFFIX}\"
                    \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${folder}/${bundleName}/*/*/*.vst3\")
                foreach(library IN LISTS libraries)
                    execute_process(COMMAND \"${CMAKE_STRIP}\" --strip-unneeded \"\${library}\" COMMAND_ERROR_IS_FATAL ANY)
                endforeach()
            endif()")
    endif()
endwhile()
install(PROGRAMS $<TARGET_FILE:ValveLadder_Standalone> DESTINATION ${CMAKE_INSTALL_BINDIR}
        RENAME valve-ladder-standalone${CMAKE_EXECUTABLE_SUFFIX})
if(APPLE)
    return()
endif()
install(CODE "
    if(CMAKE_INSTALL_DO_STRIP)
        execute_process(COMMAND \"${CMAKE_STRIP}\" --strip-unneeded
            \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${CMAKE_INSTALL_BINDIR}/valve-ladder-standalone${CMAKE_EXECUTABLE_SUFFIX}\"
            COMMAND_ERROR_IS_FATAL ANY)
    endif()")
if(WIN32)
    return()
endif()

set(desktop org.valveladder.ValveLadder)
configure_file(${resources}/desktop/${desktop}.desktop.in ${made}/${desktop}.desktop @ONLY)
configure_file(${resources}/desktop/${desktop}.metainfo.xml.in ${made}/${desktop}.metainfo.xml @ONLY)
install(FILES ${made}/${desktop}.desktop DESTINATION share/applications)
install(FILES ${made}/${desktop}.metainfo.xml DESTINATION share/metainfo)
configure_file(${resources}/desktop/valve-ladder-standalone.1.in ${made}/valve-ladder-standalone.1 @ONLY)
valveladder_text(valve-ladder-standalone.1.gz DEPENDS ${made}/valve-ladder-standalone.1
    COMMAND sh -c "'${GZIP}' -9n < '${made}/valve-ladder-standalone.1' > '${made}/valve-ladder-standalone.1.gz'")
install(FILES ${made}/valve-ladder-standalone.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)

set(icon ${resources}/icon/valve-ladder.svg)
install(FILES ${icon} DESTINATION share/icons/hicolor/scalable/apps)
find_program(RSVG_CONVERT rsvg-convert REQUIRED)
foreach(size 16 32 48 64 128 256 512)
    valveladder_text(icon-${size}.png DEPENDS ${icon}
                     COMMAND ${RSVG_CONVERT} -w ${size} -h ${size} ${icon} -o ${made}/icon-${size}.png)
    install(FILES ${made}/icon-${size}.png DESTINATION share/icons/hicolor/${size}x${size}/apps RENAME valve-ladder.png)
endforeach()
