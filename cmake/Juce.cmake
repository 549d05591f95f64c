# JUCE from a given stock checkout, or the installed package.
if(VALVE_LADDER_JUCE_DIR)
    add_subdirectory(${VALVE_LADDER_JUCE_DIR} ${CMAKE_BINARY_DIR}/juce EXCLUDE_FROM_ALL)
else()
    find_package(JUCE CONFIG REQUIRED)
endif()
