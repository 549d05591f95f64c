#include "Screen/MusicFont.h"

#include "Screen/Type.h"
#include "Screen/Wrap.h"

#include <map>
#include <vector>

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

struct Run {
    juce::String text;
    bool sign = false;
    Glyph glyph = Glyph::sharp;
    float width = 0.0F;
};

bool isSign(const juce::String& text, int at) {
    const auto letter = text[at - 1];
    const bool afterLetter = at > 0 && letter >= 'A' && letter <= 'H' &&
                             (at < 2 || !juce::CharacterFunctions::isLetter(text[at - 2]));
    return text[at] == '#' ? at > 0 : (text[at] == 'b' && afterLetter);
}

std::vector<Run> runsOf(const juce::String& text, const juce::Font& font) {
    std::vector<Run> runs;
    for (int i = 0; i < text.length(); ++i) {
        if (isSign(text, i)) {
            const Glyph glyph = text[i] == '#' ? Glyph::sharp : Glyph::flat;
            runs.push_back({{}, true, glyph, font.getHeight() * 0.30F});
        } else {
            if (runs.empty() || runs.back().sign)
                runs.push_back({});
            runs.back().text << text.substring(i, i + 1);
        }
    }
    for (Run& run : runs)
        if (!run.sign)
            run.width = textWidth(font, run.text);
    return runs;
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

void drawPitchText(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area,
                   const juce::Font& font, juce::Justification justification) {
    const auto runs = runsOf(text, font);
    float width = 0.0F;
    for (const Run& run : runs)
        width += run.width;
    float x = area.getX();
    if (justification.testFlags(juce::Justification::horizontallyCentred))
        x = area.getCentreX() - width / 2;
    else if (justification.testFlags(juce::Justification::right))
        x = area.getRight() - width;
    const float space = font.getHeight() * 0.235F;
    const float middle = area.getCentreY();
    g.setFont(font);
    for (const Run& run : runs) {
        if (run.sign)
            g.fillPath(glyphPath(run.glyph), juce::AffineTransform::scale(space).translated(
                                                 x + space * 0.1F, middle - space * 0.35F));
        else
            drawLine(g, run.text, juce::Rectangle<float>(x, area.getY(), run.width + 4.0F, area.getHeight()),
                     juce::Justification::centredLeft);
        x += run.width;
    }
}

} // namespace valveladder
