#include "Screen/Type.h"

#include "FontData.h"

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

juce::Typeface::Ptr musicTypeface() {
    static const auto typeface = face(fontdata::Bravura_otf, fontdata::Bravura_otfSize);
    return typeface;
}

} // namespace valveladder
