#include "Screen/Signs.h"

namespace valveladder {

void paintSign(juce::Graphics& g, Sign sign, juce::Rectangle<float> area, juce::Colour colour) {
    constexpr float leastLine = 1.5F;
    const SignShape shape = shapeOf(sign);
    juce::Path path = juce::Drawable::parseSVGPath(shape.path);
    path.applyTransform(
        juce::AffineTransform::scale(area.getWidth(), area.getHeight()).translated(area.getX(), area.getY()));
    g.setColour(colour);
    if (shape.lineWidth > 0.0) {
        const float width = static_cast<float>(shape.lineWidth) * area.getWidth();
        g.strokePath(path, juce::PathStrokeType(juce::jmax(leastLine, width)));
        return;
    }
    path.setUsingNonZeroWinding(false);
    g.fillPath(path);
}

} // namespace valveladder
