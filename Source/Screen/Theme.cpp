#include "Screen/Theme.h"

#include "Base/Inks.h"

namespace valveladder {

namespace {

juce::Colour inkOf(std::uint32_t rgb) {
    return juce::Colour(0xFF000000U | rgb);
}

} // namespace

const Theme& Theme::dark() {
    static const Theme theme{.isDark = true,
                             .ground = juce::Colour(0xFF15211D),
                             .panel = juce::Colour(0xFF1C2B26),
                             .raised = juce::Colour(0xFF26382F),
                             .line = juce::Colour(0xFF354A42),
                             .text = juce::Colour(0xFFF1EFE6),
                             .quiet = juce::Colour(0xFFA9B8B0),
                             .accent = okabeIto::orange,
                             .accentText = okabeIto::orange,
                             .onAccent = juce::Colour(0xFF12201B),
                             .good = okabeIto::green,
                             .onGood = juce::Colour(0xFF07110D),
                             .alarm = okabeIto::vermilion,
                             .onAlarm = juce::Colour(0xFF07110D),
                             .paper = juce::Colour(0xFFF7F1E3),
                             .ink = inkOf(inks::ink),
                             .quietInk = inkOf(inks::second),
                             .staffLine = inkOf(inks::rule),
                             .faintInk = juce::Colour(0xFFD9CFB8),
                             .accentInk = inkOf(inks::brass),
                             .goodInk = inkOf(inks::right),
                             .alarmInk = inkOf(inks::wrong)};
    return theme;
}

const Theme& Theme::light() {
    static const Theme theme{.isDark = false,
                             .ground = juce::Colour(0xFFE2DED2),
                             .panel = juce::Colour(0xFFEBE7DC),
                             .raised = juce::Colour(0xFFD3CDBE),
                             .line = juce::Colour(0xFFB9B2A0),
                             .text = juce::Colour(0xFF12201B),
                             .quiet = juce::Colour(0xFF46524C),
                             .accent = juce::Colour(0xFF966500),
                             .accentText = juce::Colour(0xFF6A4700),
                             .onAccent = juce::Colour(0xFFFFFFFF),
                             .good = juce::Colour(0xFF007A58),
                             .onGood = juce::Colour(0xFFFFFFFF),
                             .alarm = juce::Colour(0xFFAE4C00),
                             .onAlarm = juce::Colour(0xFFFFFFFF),
                             .paper = juce::Colour(0xFFFDFAF1),
                             .ink = inkOf(inks::ink),
                             .quietInk = inkOf(inks::second),
                             .staffLine = inkOf(inks::rule),
                             .faintInk = juce::Colour(0xFFDDD5C2),
                             .accentInk = inkOf(inks::brass),
                             .goodInk = inkOf(inks::right),
                             .alarmInk = inkOf(inks::wrong)};
    return theme;
}

} // namespace valveladder
