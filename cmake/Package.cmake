# Packages of what `cmake --install` lays out, by CPack: `cpack -G DEB` (Debian 12).
set(CPACK_PACKAGE_NAME valve-ladder)
set(CPACK_PACKAGE_VENDOR "The Valve Ladder project")
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "chromatic practice for players of valved brass")
set(CPACK_PACKAGE_DESCRIPTION "Leads a daily chromatic drill beside a DAW session, listens by MIDI or
microphone, says which note was right, wrong, missed, early or late, keeps
every take in a log and steps the tempo by a little each day, so that the
change of valves that used to stumble is one you no longer think of. A plugin
(VST3, LV2), a program of its own and a console tool.")
set(CPACK_RESOURCE_FILE_LICENSE ${CMAKE_SOURCE_DIR}/LICENSE)
set(CPACK_PACKAGE_INSTALL_DIRECTORY "Valve Ladder")
set(CPACK_STRIP_FILES ON)
set(CPACK_VERBATIM_VARIABLES ON)

set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_RELEASE 1)
# RFC 2606: a domain that is nobody's, as there is no address to write to.
set(CPACK_DEBIAN_PACKAGE_MAINTAINER "The Valve Ladder project <valve-ladder@valve-ladder.invalid>")
set(CPACK_DEBIAN_PACKAGE_SECTION sound)
set(CPACK_DEBIAN_PACKAGE_PRIORITY optional)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_DEPENDS tzdata)
if(VALVE_LADDER_PLUGIN)
    # JUCE opens these by name when a window is shown, which shlibdeps does not see.
    string(APPEND CPACK_DEBIAN_PACKAGE_DEPENDS ", libxcursor1, libxext6, libxinerama1, libxrandr2, libxrender1")
    set(CPACK_DEBIAN_PACKAGE_RECOMMENDS "libjack-jackd2-0 | libjack-0.125")
endif()
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_SOURCE_DIR}/cmake/debian/complete.cmake)
set(CPACK_VALVE_LADDER_SOURCE ${CMAKE_SOURCE_DIR})
set(CPACK_VALVE_LADDER_RELEASE_DATE ${VALVE_LADDER_RELEASE_DATE})
if(WIN32)
    include(Installer)
endif()
include(CPack)
