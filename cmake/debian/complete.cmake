# What Debian's policy wants in a package beside the files installed: copyright, changelog, the place of its own for
# completions of zsh. Run by CPack before it packs.
if(NOT CPACK_GENERATOR STREQUAL "DEB")
    return()
endif()
set(usr ${CPACK_TEMPORARY_INSTALL_DIRECTORY}/usr)
set(doc ${usr}/share/doc/${CPACK_PACKAGE_NAME})
file(COPY ${CPACK_VALVE_LADDER_SOURCE}/cmake/debian/copyright DESTINATION ${doc})
execute_process(COMMAND date --rfc-email --utc --date ${CPACK_VALVE_LADDER_RELEASE_DATE} OUTPUT_VARIABLE day
                OUTPUT_STRIP_TRAILING_WHITESPACE COMMAND_ERROR_IS_FATAL ANY)
file(WRITE ${doc}/changelog.Debian "${CPACK_PACKAGE_NAME} (${CPACK_PACKAGE_VERSION}-${CPACK_DEBIAN_PACKAGE_RELEASE}) bookworm; urgency=medium

  * As CHANGELOG.md tells of ${CPACK_PACKAGE_VERSION}.

 -- ${CPACK_DEBIAN_PACKAGE_MAINTAINER}  ${day}
")
execute_process(COMMAND gzip -9n ${doc}/changelog.Debian COMMAND_ERROR_IS_FATAL ANY)
file(RENAME ${doc}/CHANGELOG.md ${doc}/changelog)
execute_process(COMMAND gzip -9n ${doc}/changelog COMMAND_ERROR_IS_FATAL ANY)
file(MAKE_DIRECTORY ${usr}/share/zsh/vendor-completions)
file(RENAME ${usr}/share/zsh/site-functions/_valve-ladder ${usr}/share/zsh/vendor-completions/_valve-ladder)
file(REMOVE ${usr}/share/zsh/site-functions)
