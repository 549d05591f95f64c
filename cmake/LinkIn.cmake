# Links other libraries in, so that the plugin needs only what every desktop Linux has: C library, X11, ALSA. With
# -DVALVE_LADDER_LINK_IN=<the folder that cmake/libraries.sh made>. What is compiled stays as it is; only what is linked
# changes. The console's printed sheets keep cairo and FreeType, which every desktop has.
function(valveladder_archives output)
    set(found)
    foreach(name ${ARGN})
        find_library(VALVE_LADDER_ARCHIVE_${name} lib${name}.a HINTS ${VALVE_LADDER_LINK_IN}/lib NO_CACHE REQUIRED)
        list(APPEND found ${VALVE_LADDER_ARCHIVE_${name}})
        unset(VALVE_LADDER_ARCHIVE_${name})
    endforeach()
    set(${output} ${found} PARENT_SCOPE)
endfunction()

# A target of one file takes the archive in its place, whatever the configuration that its package was built in.
foreach(pair fmt::fmt=fmt date::date-tz=date-tz pugixml::shared=pugixml pugixml::pugixml=pugixml
             SQLite::SQLite3=sqlite3 JPEG::JPEG=jpeg)
    string(REPLACE "=" ";" pair ${pair})
    list(POP_FRONT pair target archive)
    if(TARGET ${target})
        get_target_property(kind ${target} TYPE)
        if(NOT kind STREQUAL "INTERFACE_LIBRARY")
            valveladder_archives(file ${archive})
            get_target_property(configurations ${target} IMPORTED_CONFIGURATIONS)
            set_target_properties(${target} PROPERTIES IMPORTED_LOCATION ${file})
            foreach(configuration ${configurations})
                set_target_properties(${target} PROPERTIES IMPORTED_LOCATION_${configuration} ${file})
            endforeach()
        endif()
    endif()
endforeach()

# A target of pkg-config's lists what it links: the archives, and what they need in turn.
foreach(list "PkgConfig::SoundFileLibrary sndfile FLAC vorbisenc vorbis ogg opus" "PkgConfig::RubberBand rubberband"
             "PkgConfig::libzip zip z" "PkgConfig::JuceCodecs FLAC vorbisfile vorbisenc vorbis ogg png16 z")
    separate_arguments(list)
    list(POP_FRONT list target)
    if(TARGET ${target})
        valveladder_archives(files ${list})
        set_target_properties(${target} PROPERTIES INTERFACE_LINK_LIBRARIES "${files}")
    endif()
endforeach()

# JUCE asks for FreeType by name: a folder that holds its archive alone is looked into first, for the plugin.
if(VALVE_LADDER_PLUGIN)
    valveladder_archives(files freetype png16 z brotlidec brotlicommon)
    set(linkFirst ${CMAKE_BINARY_DIR}/link-in)
    file(MAKE_DIRECTORY ${linkFirst})
    foreach(file ${files})
        get_filename_component(name ${file} NAME)
        file(CREATE_LINK ${file} ${linkFirst}/${name} SYMBOLIC)
    endforeach()
    target_link_directories(ValveLadder BEFORE PUBLIC ${linkFirst})
    target_link_libraries(ValveLadder PUBLIC freetype png16 z brotlidec brotlicommon)
endif()

# What is linked in is nobody else's to find: two plugins in one host may hold two versions of a library.
foreach(target valve-ladder ValveLadder_VST3 ValveLadder_LV2 ValveLadder_Standalone)
    if(TARGET ${target})
        target_link_options(${target} PRIVATE -static-libstdc++ -static-libgcc -Wl,--exclude-libs,ALL -Wl,--as-needed)
    endif()
endforeach()
