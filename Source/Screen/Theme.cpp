#include "Screen/Theme.h"

namespace valveladder {

const Theme& Theme::dark() {
    static const Theme theme{true,
                             juce::Colour(0xFF121518),
                             juce::Colour(0xFF191D22),
                             juce::Colour(0xFF262C34),
                             juce::Colour(0xFF39424D),
                             juce::Colour(0xFFF1F3F5),
                             juce::Colour(0xFFA9B4C0),
                             okabeIto::skyBlue,
                             okabeIto::skyBlue,
                             juce::Colour(0xFF0B1116),
                             okabeIto::orange,
                             juce::Colour(0xFFE9ECEF),
                             juce::Colour(0xFF4A5562)};
    return theme;
}

const Theme& Theme::light() {
    static const Theme theme{false,
                             juce::Colour(0xFFF4F3EF),
                             juce::Colour(0xFFFCFBF9),
                             juce::Colour(0xFFE8E6DF),
                             juce::Colour(0xFFCDC9BF),
                             juce::Colour(0xFF16191D),
                             juce::Colour(0xFF52595F),
                             okabeIto::blue,
                             juce::Colour(0xFF005C91),
                             juce::Colour(0xFFFFFFFF),
                             okabeIto::vermilion,
                             juce::Colour(0xFF1A1D21),
                             juce::Colour(0xFFB9B6AD)};
    return theme;
}

} // namespace valveladder
