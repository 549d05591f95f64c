#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <string>

namespace valveladder::pictures {

/// The component as the software renderer draws it at a display's scale.
[[nodiscard]] juce::Image render(juce::Component& component, float scale);

/// Where pictures are left: the build's folder "screen-pictures".
[[nodiscard]] juce::File folder();
void save(const juce::Image& image, const std::string& name);

/// Compares with the kept reference of that name; VALVE_LADDER_WRITE_REFERENCES=1 writes references, and the
/// README's pictures, anew.
void compareWithReference(const juce::Image& image, const std::string& name);
void writeForReadme(const juce::Image& image, const std::string& name);

/// How far two pictures are apart.
struct Difference {
    bool sameSize = false;
    double meanStep = 0.0; ///< mean over pixels of the largest channel's difference, 0..255
    double farShare = 0.0; ///< share of pixels that differ by more than farStep
};
inline constexpr int farStep = 48;
[[nodiscard]] Difference difference(const juce::Image& a, const juce::Image& b);

} // namespace valveladder::pictures
