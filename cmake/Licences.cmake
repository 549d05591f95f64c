# The licences of all that is inside: ours, and of everything whose code is compiled or linked in.
set(licences ${CMAKE_INSTALL_DOCDIR}/licences)
install(FILES ${CMAKE_SOURCE_DIR}/LICENSE DESTINATION ${licences} RENAME valve-ladder.txt)
install(FILES ${resources}/fonts/Bravura-OFL.txt ${resources}/fonts/Inter-OFL.txt DESTINATION ${licences})
install(FILES ${resources}/licences.md DESTINATION ${licences} RENAME README.md)

# As Debian has them, from the packages that were built with; elsewhere licences.md says where they are.
set(licensedPackages libsqlitecpp-dev libsqlite3-dev libeigen3-dev libboost1.74-dev nlohmann-json3-dev libfmt-dev
    libsndfile1-dev libpugixml-dev libzip-dev libhowardhinnant-date-dev librubberband-dev libcli11-dev libcairo2-dev
    libfreetype-dev)
if(VALVE_LADDER_PLUGIN)
    list(APPEND licensedPackages libreaderwriterqueue-dev ableton-link-dev libflac-dev libvorbis-dev libogg-dev libpng-dev
                                 libjpeg62-turbo-dev zlib1g-dev)
    if(VALVE_LADDER_JUCE_DIR)
        file(GLOB juceLicence ${VALVE_LADDER_JUCE_DIR}/LICENSE*)
        install(FILES ${juceLicence} DESTINATION ${licences}/juce)
    else()
        list(APPEND licensedPackages juce-modules-source)
    endif()
endif()
if(VALVE_LADDER_STATIC_LIBRARIES)
    list(APPEND licensedPackages libopus-dev libpixman-1-dev) # what those above are linked with
endif()
if(WIN32)
    list(APPEND licensedPackages unicode-cldr-core)
    install(FILES ${CMAKE_SOURCE_DIR}/build-sources/cctz/LICENSE.txt DESTINATION ${licences} RENAME cctz.txt)
endif()
foreach(package ${licensedPackages})
    if(EXISTS /usr/share/doc/${package}/copyright)
        file(REAL_PATH /usr/share/doc/${package}/copyright text) # some packages link to another's
        install(FILES ${text} DESTINATION ${licences} RENAME ${package}.txt)
    else()
        message(STATUS "/usr/share/doc/${package}/copyright is not there: its licence is not installed")
    endif()
endforeach()
