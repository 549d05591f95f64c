# The console tool: the core without a window.
find_package(CLI11 REQUIRED)
file(GLOB consoleSources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/Source/Console/*.h
     ${CMAKE_SOURCE_DIR}/Source/Console/*.cpp)
if(consoleSources)
    add_executable(valve-ladder ${consoleSources})
    target_link_libraries(valve-ladder PRIVATE valveladder_core valveladder_paper CLI11::CLI11 nlohmann_json::nlohmann_json fmt::fmt
                          date::date)
    valveladder_own_sources(valve-ladder)
    if(WIN32)
        valveladder_windows_program(valve-ladder)
    endif()
    # Reading command lines is no matter of speed, and the parser's templates are most of what is compiled here: a third
    # of the time is saved.
    target_compile_options(valve-ladder PRIVATE $<$<CONFIG:Release>:-O1>)
endif()

# GCC 12 sees an uninitialised variable inside the date library's inlined parser, which sets it by stream extraction.
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU" AND CMAKE_CXX_COMPILER_VERSION VERSION_LESS 13)
    set_source_files_properties(${CMAKE_SOURCE_DIR}/Source/Console/TimeText.cpp PROPERTIES
                                COMPILE_OPTIONS -Wno-maybe-uninitialized)
endif()
