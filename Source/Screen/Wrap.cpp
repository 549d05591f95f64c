#include "Screen/Wrap.h"

#include "Screen/Type.h"

namespace valveladder {

namespace {

/// Pieces between which a line may break; a piece keeps the space that follows it.
std::vector<juce::String> piecesOf(const juce::String& text) {
    std::vector<juce::String> pieces;
    juce::String piece;
    for (auto at = text.getCharPointer(); !at.isEmpty(); ++at) {
        piece << juce::String::charToString(*at);
        if (*at == ' ' || *at == '/' || *at == '\\') {
            pieces.push_back(piece);
            piece.clear();
        }
    }
    if (piece.isNotEmpty())
        pieces.push_back(piece);
    return pieces;
}

/// As much of the piece as fits, one letter at least.
int fitting(const juce::String& piece, const juce::Font& font, float width) {
    int most = 1;
    while (most < piece.length() && textWidth(font, piece.substring(0, most + 1)) <= width)
        ++most;
    return most;
}

class Lines {
public:
    Lines(const juce::Font& ofFont, float ofWidth) : font(ofFont), width(ofWidth) {}

    void add(juce::String piece) {
        if (textWidth(font, line + piece.trimEnd()) > width && line.isNotEmpty())
            end();
        while (textWidth(font, piece.trimEnd()) > width && piece.trimEnd().length() > 1) {
            const int fit = fitting(piece, font, width);
            line = piece.substring(0, fit);
            piece = piece.substring(fit);
            end();
        }
        line << piece;
    }
    void end() {
        lines.push_back(line.trimEnd());
        line.clear();
    }
    [[nodiscard]] std::vector<juce::String> finished() {
        if (line.isNotEmpty() || lines.empty())
            end();
        return std::move(lines);
    }

private:
    const juce::Font& font;
    float width;
    juce::String line;
    std::vector<juce::String> lines;
};

} // namespace

std::vector<juce::String> wrapped(const juce::String& text, const juce::Font& font, float width) {
    std::vector<juce::String> all;
    for (const juce::String& paragraph : juce::StringArray::fromLines(text)) {
        Lines lines(font, width);
        for (const juce::String& piece : piecesOf(paragraph))
            lines.add(piece);
        for (juce::String& line : lines.finished())
            all.push_back(std::move(line));
    }
    return all;
}

void drawLine(juce::Graphics& g, const juce::String& text, juce::Rectangle<float> area,
              juce::Justification justification) {
    const juce::Font font = g.getCurrentFont();
    const float width = textWidth(font, text);
    float x = area.getX();
    if (justification.testFlags(juce::Justification::horizontallyCentred))
        x = area.getCentreX() - width / 2;
    else if (justification.testFlags(juce::Justification::right))
        x = area.getRight() - width;
    float y = area.getCentreY() - font.getHeight() / 2;
    if (justification.testFlags(juce::Justification::top))
        y = area.getY();
    juce::GlyphArrangement line;
    line.addLineOfText(font, withSigns(text), x, y + font.getAscent());
    line.draw(g);
}

juce::Rectangle<float> drawWrapped(juce::Graphics& g, const juce::String& text, const juce::Font& font,
                                   juce::Rectangle<float> area) {
    if (text.isEmpty())
        return area;
    const float height = lineHeight(font);
    g.setFont(font);
    for (const juce::String& line : wrapped(text, font, area.getWidth())) {
        drawLine(g, line, area.withHeight(height), juce::Justification::centredLeft);
        area.removeFromTop(height);
    }
    return area;
}

float heightOf(const juce::String& text, const juce::Font& font, float width) {
    return text.isEmpty() ? 0.0F : lineHeight(font) * static_cast<float>(wrapped(text, font, width).size());
}

} // namespace valveladder
