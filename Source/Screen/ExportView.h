#pragma once

#include "Base/Problem.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// The view as it stands, as a picture of twice its pixels.
[[nodiscard]] juce::Image pictureOf(juce::Component& view);
/// The view as SVG: every shape and letter a path.
[[nodiscard]] juce::String svgOf(juce::Component& view);
/// Writes PNG or SVG, as the file's ending says; refused for any other.
[[nodiscard]] Result<Done> exportView(juce::Component& view, const juce::File& file);

} // namespace valveladder
