# What `cmake --install` puts where, by the usual folders (GNU coding standards, File Hierarchy Standard, XDG; the
# plugins where hosts look for them). Everything but the plugin is there with -DVALVE_LADDER_PLUGIN=OFF as well.
if(WIN32)
    set(CMAKE_INSTALL_BINDIR . CACHE PATH "Programs")
    set(CMAKE_INSTALL_DOCDIR Documents CACHE PATH "Documentation")
    set(dataFolder Data)
else()
    set(dataFolder share/valve-ladder)
endif()
set(CMAKE_INSTALL_DOCDIR share/doc/valve-ladder CACHE PATH "Documentation")
include(GNUInstallDirs)
set(resources ${CMAKE_SOURCE_DIR}/Resources)
set(made ${CMAKE_BINARY_DIR}/install)

# The day of the release stands beside its version in the list of changes.
file(STRINGS ${resources}/CHANGELOG.md release REGEX "^## ${PROJECT_VERSION}, ")
if(NOT release MATCHES "^## ${PROJECT_VERSION}, ([0-9]+-[0-9]+-[0-9]+)$")
    message(FATAL_ERROR "Resources/CHANGELOG.md has no line '## ${PROJECT_VERSION}, <year-month-day>': add one.")
endif()
set(VALVE_LADDER_RELEASE_DATE ${CMAKE_MATCH_1})

# Texts that are made at build: manual page and completions by the tool itself.
set(texts)
function(valveladder_text output)
    cmake_parse_arguments(text "" "" "COMMAND;DEPENDS" ${ARGN})
    add_custom_command(OUTPUT ${made}/${output} COMMAND ${text_COMMAND} DEPENDS ${text_DEPENDS} VERBATIM)
    set(texts ${texts} ${made}/${output} PARENT_SCOPE)
endfunction()
file(MAKE_DIRECTORY ${made})
find_program(GZIP gzip REQUIRED)
if(NOT CMAKE_CROSSCOMPILING)
    valveladder_text(valve-ladder.1.gz DEPENDS valve-ladder
                     COMMAND sh -c "'$<TARGET_FILE:valve-ladder>' manual | '${GZIP}' -9n > '${made}/valve-ladder.1.gz'")
    foreach(shell bash zsh fish)
        valveladder_text(completions.${shell} DEPENDS valve-ladder
                         COMMAND sh -c "'$<TARGET_FILE:valve-ladder>' completions ${shell} > '${made}/completions.${shell}'")
    endforeach()
    install(FILES ${made}/valve-ladder.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1)
    install(FILES ${made}/completions.bash DESTINATION share/bash-completion/completions RENAME valve-ladder)
    install(FILES ${made}/completions.zsh DESTINATION share/zsh/site-functions RENAME _valve-ladder)
    install(FILES ${made}/completions.fish DESTINATION share/fish/vendor_completions.d RENAME valve-ladder.fish)
endif()

# The handbook: a page a subject, from Markdown to HTML.
find_program(CMARK cmark-gfm)
file(GLOB pages CONFIGURE_DEPENDS ${resources}/handbook/*.md)
if(CMARK)
    foreach(page ${pages})
        get_filename_component(name ${page} NAME_WE)
        valveladder_text(handbook/${name}.html
            DEPENDS ${page} ${resources}/handbook/page.html.in ${CMAKE_SOURCE_DIR}/cmake/HandbookPage.cmake
            COMMAND ${CMAKE_COMMAND} -DCMARK=${CMARK} -DINPUT=${page} -DTEMPLATE=${resources}/handbook/page.html.in
                    -DOUTPUT=${made}/handbook/${name}.html -P ${CMAKE_SOURCE_DIR}/cmake/HandbookPage.cmake)
        install(FILES ${made}/handbook/${name}.html DESTINATION ${CMAKE_INSTALL_DOCDIR}/handbook)
    endforeach()
else()
    message(STATUS "cmark-gfm was not found: the handbook is installed as it was written, in Markdown")
    install(FILES ${pages} DESTINATION ${CMAKE_INSTALL_DOCDIR}/handbook)
endif()
install(DIRECTORY ${resources}/pictures DESTINATION ${CMAKE_INSTALL_DOCDIR}/handbook FILES_MATCHING PATTERN "*.png"
        PATTERN "*.svg")

install(TARGETS valve-ladder RUNTIME DESTINATION ${CMAKE_INSTALL_BINDIR})
install(FILES ${resources}/CHANGELOG.md ${CMAKE_SOURCE_DIR}/README.md DESTINATION ${CMAKE_INSTALL_DOCDIR})
install(FILES ${resources}/log.schema.json DESTINATION ${dataFolder})
install(DIRECTORY ${resources}/parts DESTINATION ${dataFolder} FILES_MATCHING PATTERN "*.musicxml")
if(EXISTS ${resources}/examples)
    install(DIRECTORY ${resources}/examples DESTINATION ${dataFolder})
endif()
include(Licences)
if(VALVE_LADDER_PLUGIN)
    include(InstallPlugin)
endif()

add_custom_target(valve-ladder-texts ALL DEPENDS ${texts})
