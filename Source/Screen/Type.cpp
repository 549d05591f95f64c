#include "Screen/Type.h"

#include "FontData.h"
#include "Valves/PitchSigns.h"

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
    return text.containsAnyOf("#b") ? toText(withPitchSigns(text.toRawUTF8())) : text;
}

float textWidth(const juce::Font& font, const juce::String& text) {
    return widthAsItStands(font, withSigns(text));
}

int buttonWidth(const juce::TextButton& button, const juce::Font& font, int beside) {
    return static_cast<int>(textWidth(font, button.getButtonText())) + 2 * beside;
}

juce::Typeface::Ptr musicTypeface() {
    static const auto typeface = face(fontdata::Bravura_otf, fontdata::Bravura_otfSize);
    return typeface;
}

} // namespace valveladder
