# The time zone database inside the program, compiled from what this machine has (package tzdata), with the names that
# Windows has for zones (Unicode CLDR, package unicode-cldr-core).
pkg_check_modules(Cctz REQUIRED IMPORTED_TARGET cctz)
set(timeZoneLibraries PkgConfig::Cctz date::date)
find_program(ZIC zic HINTS /usr/sbin REQUIRED)
find_file(TZDATA tzdata.zi PATHS /usr/share/zoneinfo NO_CMAKE_FIND_ROOT_PATH REQUIRED)
find_file(WINDOWS_ZONES windowsZones.xml PATHS /usr/share/unicode/cldr/common/supplemental NO_CMAKE_FIND_ROOT_PATH REQUIRED)
set(zoneArchive ${CMAKE_BINARY_DIR}/time-zones/zones.zip)
set(zoneSource ${CMAKE_BINARY_DIR}/time-zones/zones.cpp)
add_custom_command(OUTPUT ${zoneSource}
    COMMAND ${CMAKE_COMMAND} -DZIC=${ZIC} -DTZDATA=${TZDATA} -DWINDOWS_ZONES=${WINDOWS_ZONES} -DOUTPUT=${zoneArchive}
            -P ${CMAKE_SOURCE_DIR}/cmake/ZoneArchive.cmake
    COMMAND ${CMAKE_COMMAND} -DINPUT=${zoneArchive} -DOUTPUT=${zoneSource} -DSYMBOL=timeZones
            -P ${CMAKE_SOURCE_DIR}/cmake/EmbedFile.cmake
    DEPENDS ${TZDATA} ${WINDOWS_ZONES} ${CMAKE_SOURCE_DIR}/cmake/ZoneArchive.cmake ${CMAKE_SOURCE_DIR}/cmake/EmbedFile.cmake
    VERBATIM)
set(VALVE_LADDER_practice_MADE ${zoneSource})
