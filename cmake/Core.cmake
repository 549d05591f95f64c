# The domain: every room but Paper, Plugin, Screen, Console and Demo. Links no JUCE, so the border is kept by the linker.
find_package(SQLiteCpp REQUIRED)
find_package(Eigen3 REQUIRED)
find_package(nlohmann_json REQUIRED)
find_package(fmt REQUIRED)
find_package(date REQUIRED)
find_package(Threads REQUIRED)
find_package(PkgConfig REQUIRED)
if(VALVE_LADDER_STATIC_LIBRARIES)
    set(PKG_CONFIG_ARGN --static) # what a library needs itself is linked as well
endif()
pkg_check_modules(SoundFileLibrary REQUIRED IMPORTED_TARGET sndfile)
pkg_check_modules(RubberBand REQUIRED IMPORTED_TARGET rubberband>=3.0)
find_package(pugixml REQUIRED)
# Debian's CMake file of libzip asks for its command line tools as well; pkg-config does not.
pkg_check_modules(libzip REQUIRED IMPORTED_TARGET libzip)

# Local time: by the system's time zones; Windows has none, so they come along.
if(WIN32)
    include(TimeZones)
else()
    set(timeZoneLibraries date::date-tz)
endif()

# A tier may use those above it here; which room may use which is the table in DEVELOPERS.md, checked by Tests/borders.sh.
set(VALVE_LADDER_TIERS practice records session)
set(VALVE_LADDER_practice_ROOMS Base Valves Ladder Tempo Score Guide Sound Takes Listening Findings Words)
set(VALVE_LADDER_records_ROOMS Records Log Music Engraving Files Reports)
set(VALVE_LADDER_session_ROOMS KeptSound Review Invented Session View)
set(VALVE_LADDER_CORE_ROOMS)

add_library(valveladder_settings INTERFACE)
target_include_directories(valveladder_settings INTERFACE ${CMAKE_SOURCE_DIR}/Source)
target_link_libraries(valveladder_settings INTERFACE Eigen3::Eigen Threads::Threads)
# In one source alone, so that a new version does not compile everything anew.
set_source_files_properties(${CMAKE_SOURCE_DIR}/Source/Base/Version.cpp PROPERTIES
                            COMPILE_DEFINITIONS VALVE_LADDER_VERSION="${PROJECT_VERSION}")

if(VALVE_LADDER_SANITIZE MATCHES "undefined")
    # Eigen 3.4 loads a pair of floats as if it were a double, which it need not be aligned like.
    set_source_files_properties(${CMAKE_SOURCE_DIR}/Source/Listening/RingingGlide.cpp PROPERTIES
                                COMPILE_OPTIONS -fno-sanitize=alignment)
endif()

set(coreLibraries SQLiteCpp nlohmann_json::nlohmann_json fmt::fmt ${timeZoneLibraries} PkgConfig::SoundFileLibrary
                  PkgConfig::RubberBand pugixml::pugixml PkgConfig::libzip)
add_library(valveladder_core STATIC)
foreach(tier ${VALVE_LADDER_TIERS})
    set(tierSources)
    foreach(room ${VALVE_LADDER_${tier}_ROOMS})
        valveladder_room_sources(roomSources ${room})
        list(APPEND tierSources ${roomSources})
    endforeach()
    list(APPEND VALVE_LADDER_CORE_ROOMS ${VALVE_LADDER_${tier}_ROOMS})
    add_library(valveladder_${tier} OBJECT ${tierSources} ${VALVE_LADDER_${tier}_MADE})
    target_link_libraries(valveladder_${tier} PUBLIC valveladder_settings PRIVATE ${coreLibraries})
    valveladder_own_sources(valveladder_${tier})
    valveladder_compile_together(valveladder_${tier})
    target_sources(valveladder_core PRIVATE $<TARGET_OBJECTS:valveladder_${tier}>)
endforeach()
target_link_libraries(valveladder_core PUBLIC valveladder_settings PRIVATE ${coreLibraries})
