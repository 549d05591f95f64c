#include "Screen/Type.h"

#include "FontData.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace valveladder {

namespace {

juce::Typeface::Ptr face(const char* data, int size) {
    return juce::Typeface::createSystemTypefaceFor(data, static_cast<std::size_t>(size));
}

juce::Font fontOf(const juce::Typeface::Ptr& typeface, float height) {
#if JUCE_MAJOR_VERSION >= 8
    const juce::Font font(juce::FontOptions(typeface).withMetricsKind(juce::TypefaceMetricsKind::legacy));
#else
    const juce::Font font(typeface);
#endif
    return font.withHeight(height * 1.15F);
}

float widthAsItStands(const juce::Font& font, const juce::String& text) {
#if JUCE_MAJOR_VERSION >= 8
    return juce::GlyphArrangement::getStringWidth(font, text);
#else
    return font.getStringWidthFloat(text);
#endif
}

constexpr const char* sharpSign = "\xe2\x99\xaf";
constexpr const char* flatSign = "\xe2\x99\xad";

bool isLetter(char byte) {
    return juce::CharacterFunctions::isLetter(byte) || static_cast<unsigned char>(byte) >= 0x80;
}

/// Makes what it stands beside part of a path, an address or an identifier, and no note's name.
bool joins(char byte) {
    return std::string_view("/\\_@#").find(byte) != std::string_view::npos;
}

bool isSyllable(std::string_view word) {
    constexpr std::array<std::string_view, 7> syllables{"do", "re", "mi", "fa", "sol", "la", "si"};
    return std::ranges::find(syllables, word) != syllables.end();
}

/// The sign that a byte stands for; nullptr = none.
const char* signAt(std::string_view text, std::size_t at) {
    if (text[at] != '#' && text[at] != 'b')
        return nullptr;
    std::size_t begin = at;
    while (begin > 0 && isLetter(text[begin - 1]))
        --begin;
    const std::string_view name = text.substr(begin, at - begin);
    const auto byte = [&](std::size_t place) { return place < text.size() ? text[place] : ' '; };
    const char before = begin > 0 ? text[begin - 1] : ' ';
    const char after = byte(at + 1);
    if (isLetter(after) || joins(after) || joins(before) || juce::CharacterFunctions::isDigit(before) ||
        (after == '.' && isLetter(byte(at + 2))))
        return nullptr;
    const bool isLetterName = name.size() == 1 && name[0] >= 'A' && name[0] <= 'G';
    if (text[at] == 'b')
        return isLetterName ? flatSign : nullptr;
    return isLetterName || isSyllable(name) ? sharpSign : nullptr;
}

} // namespace

juce::Font plainFont(float height) {
    static const auto typeface = face(fontdata::InterRegular_otf, fontdata::InterRegular_otfSize);
    return fontOf(typeface, height);
}

juce::Font boldFont(float height) {
    static const auto typeface = face(fontdata::InterSemiBold_otf, fontdata::InterSemiBold_otfSize);
    return fontOf(typeface, height);
}

juce::Font boldFontFitting(const juce::String& text, float width, float largest, float smallest) {
    float height = largest;
    while (height > smallest && textWidth(boldFont(height), text) > width)
        height -= 1.0F;
    return boldFont(height);
}

juce::String withSigns(const juce::String& text) {
    const std::string_view plain(text.toRawUTF8());
    std::string drawn;
    std::size_t copied = 0;
    for (std::size_t at = 0; at < plain.size(); ++at)
        if (const char* sign = signAt(plain, at)) {
            drawn += plain.substr(copied, at - copied);
            drawn += sign;
            copied = at + 1;
        }
    if (copied == 0)
        return text;
    drawn += plain.substr(copied);
    return toText(drawn);
}

float textWidth(const juce::Font& font, const juce::String& text) {
    return widthAsItStands(font, withSigns(text));
}

juce::Typeface::Ptr musicTypeface() {
    static const auto typeface = face(fontdata::Bravura_otf, fontdata::Bravura_otfSize);
    return typeface;
}

} // namespace valveladder
