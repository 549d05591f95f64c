# Sheets on paper: the engraving as SVG and PDF, by cairo, with the fonts inside the program. A library of its own, so
# that the plugin, which draws with JUCE, needs neither.
find_package(PkgConfig REQUIRED)
pkg_check_modules(PaperLibraries REQUIRED IMPORTED_TARGET cairo cairo-ft cairo-svg cairo-pdf freetype2)

set(fontFolder ${CMAKE_SOURCE_DIR}/Resources/fonts)
set(fontFiles Bravura.otf Inter-Regular.otf Inter-SemiBold.otf)
set(embeddedFonts)
foreach(font ${fontFiles})
    string(REGEX REPLACE "[-.]" "" symbol ${font})
    set(embedded ${CMAKE_BINARY_DIR}/fonts/${symbol}.cpp)
    add_custom_command(OUTPUT ${embedded}
        COMMAND ${CMAKE_COMMAND} -DINPUT=${fontFolder}/${font} -DOUTPUT=${embedded} -DSYMBOL=${symbol}
                -P ${CMAKE_SOURCE_DIR}/cmake/EmbedFile.cmake
        DEPENDS ${fontFolder}/${font} ${CMAKE_SOURCE_DIR}/cmake/EmbedFile.cmake VERBATIM)
    list(APPEND embeddedFonts ${embedded})
endforeach()

file(GLOB paperSources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/Source/Paper/*.h ${CMAKE_SOURCE_DIR}/Source/Paper/*.cpp)
add_library(valveladder_paper STATIC ${paperSources} ${embeddedFonts})
target_link_libraries(valveladder_paper PUBLIC valveladder_core PRIVATE PkgConfig::PaperLibraries fmt::fmt)
valveladder_own_sources(valveladder_paper)
valveladder_compile_together(valveladder_paper)
