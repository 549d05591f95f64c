# The console tool: the core without a window.
find_package(CLI11 REQUIRED)
file(GLOB consoleSources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/Source/Console/*.h
     ${CMAKE_SOURCE_DIR}/Source/Console/*.cpp)
if(consoleSources)
    add_executable(valve-ladder ${consoleSources})
    target_link_libraries(valve-ladder PRIVATE valveladder_core CLI11::CLI11 nlohmann_json::nlohmann_json fmt::fmt
                          date::date-tz)
    valveladder_own_sources(valve-ladder)
endif()
