#pragma once

#include <juce_core/juce_core.h>

namespace valveladder {

/// Where dialogs for files begin: the player's documents, or their home where there is no such folder.
[[nodiscard]] inline juce::File documentsFolder() {
    const auto documents = juce::File::getSpecialLocation(juce::File::userDocumentsDirectory);
    return documents.isDirectory() ? documents
                                   : juce::File::getSpecialLocation(juce::File::userHomeDirectory);
}

} // namespace valveladder
