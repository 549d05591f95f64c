# The domain: every room but Plugin, Screen, Console and Demo. Links no JUCE, so the border is kept by the linker.
find_package(SQLiteCpp REQUIRED)
find_package(Eigen3 REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(fmt REQUIRED)
find_package(date REQUIRED)
find_package(Threads REQUIRED)
find_package(PkgConfig REQUIRED)
pkg_check_modules(SoundFileLibrary REQUIRED IMPORTED_TARGET sndfile)
pkg_check_modules(RubberBand REQUIRED IMPORTED_TARGET rubberband>=3.0)
find_package(pugixml REQUIRED)
# Debian's CMake file of libzip asks for its command line tools as well; pkg-config does not.
find_package(PkgConfig REQUIRED)
pkg_check_modules(libzip REQUIRED IMPORTED_TARGET libzip)

set(VALVE_LADDER_CORE_ROOMS Base Valves Ladder Score Tempo Guide Sound Takes Listening Findings Music Log Files Engraving Session)
set(coreSources)
foreach(room ${VALVE_LADDER_CORE_ROOMS})
    file(GLOB roomSources CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/Source/${room}/*.h
         ${CMAKE_SOURCE_DIR}/Source/${room}/*.cpp)
    list(APPEND coreSources ${roomSources})
endforeach()

add_library(valveladder_core STATIC ${coreSources})
target_include_directories(valveladder_core PUBLIC ${CMAKE_SOURCE_DIR}/Source)
target_link_libraries(valveladder_core PUBLIC Eigen3::Eigen Threads::Threads
                      PRIVATE SQLiteCpp nlohmann_json::nlohmann_json fmt::fmt date::date-tz PkgConfig::SoundFileLibrary PkgConfig::RubberBand pugixml::pugixml PkgConfig::libzip)
target_compile_definitions(valveladder_core PUBLIC VALVE_LADDER_VERSION="${PROJECT_VERSION}")
valveladder_own_sources(valveladder_core)
