#include "Screen/MusicFont.h"

#include "Screen/Type.h"

#include <map>

namespace valveladder {

namespace {

juce::Path outline(Glyph glyph) {
    juce::Path path;
    const auto typeface = musicTypeface();
    const auto letter = static_cast<juce::juce_wchar>(glyph);
#if JUCE_MAJOR_VERSION >= 8
    if (const auto number = typeface->getNominalGlyphForCodepoint(letter))
        typeface->getOutlineForGlyph(juce::TypefaceMetricsKind::legacy, static_cast<int>(*number), path);
#else
    juce::Array<int> glyphs;
    juce::Array<float> offsets;
    typeface->getGlyphPositions(juce::String::charToString(letter), glyphs, offsets);
    if (!glyphs.isEmpty())
        typeface->getOutlineForGlyph(glyphs.getFirst(), path);
#endif
    return path;
}

/// JUCE scales outlines by ascent and descent, which differ from font to font; a black note head is one
/// staff space high in every SMuFL font.
float unitsPerSpace() {
    static const float units = outline(Glyph::blackHead).getBounds().getHeight();
    return units;
}

} // namespace

const juce::Path& glyphPath(Glyph glyph) {
    static std::map<Glyph, juce::Path> paths;
    auto found = paths.find(glyph);
    if (found == paths.end()) {
        juce::Path path = outline(glyph);
        path.applyTransform(juce::AffineTransform::scale(1.0F / unitsPerSpace()));
        found = paths.emplace(glyph, std::move(path)).first;
    }
    return found->second;
}

} // namespace valveladder
