#include "Screen/Type.h"

#include "FontData.h"

namespace valveladder {

namespace {

juce::Typeface::Ptr face(const char* data, int size) {
    return juce::Typeface::createSystemTypefaceFor(data, static_cast<std::size_t>(size));
}

} // namespace

juce::Font plainFont(float height) {
    static const auto typeface = face(fontdata::InterRegular_otf, fontdata::InterRegular_otfSize);
    return juce::Font(typeface).withHeight(height * 1.15F);
}

juce::Font boldFont(float height) {
    static const auto typeface = face(fontdata::InterSemiBold_otf, fontdata::InterSemiBold_otfSize);
    return juce::Font(typeface).withHeight(height * 1.15F);
}

juce::Typeface::Ptr musicTypeface() {
    static const auto typeface = face(fontdata::Bravura_otf, fontdata::Bravura_otfSize);
    return typeface;
}

} // namespace valveladder
