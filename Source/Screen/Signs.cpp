#include "Screen/Signs.h"

#include "Screen/MusicFont.h"

namespace valveladder {

namespace {

juce::Path tickIn(juce::Rectangle<float> a) {
    juce::Path path;
    path.startNewSubPath(a.getX() + a.getWidth() * 0.12F, a.getY() + a.getHeight() * 0.55F);
    path.lineTo(a.getX() + a.getWidth() * 0.4F, a.getY() + a.getHeight() * 0.82F);
    path.lineTo(a.getX() + a.getWidth() * 0.88F, a.getY() + a.getHeight() * 0.22F);
    return path;
}

juce::Path crossIn(juce::Rectangle<float> a) {
    a.reduce(a.getWidth() * 0.18F, a.getHeight() * 0.18F);
    juce::Path path;
    path.startNewSubPath(a.getTopLeft());
    path.lineTo(a.getBottomRight());
    path.startNewSubPath(a.getTopRight());
    path.lineTo(a.getBottomLeft());
    return path;
}

juce::Path warningIn(juce::Rectangle<float> a) {
    juce::Path path;
    path.addTriangle(a.getCentreX(), a.getY() + 1.0F, a.getRight(), a.getBottom() - 1.0F, a.getX(),
                     a.getBottom() - 1.0F);
    path = path.createPathWithRoundedCorners(2.0F);
    const float bar = a.getWidth() * 0.12F;
    path.addRectangle(a.getCentreX() - bar / 2, a.getY() + a.getHeight() * 0.36F, bar, a.getHeight() * 0.3F);
    path.addRectangle(a.getCentreX() - bar / 2, a.getY() + a.getHeight() * 0.74F, bar, bar);
    path.setUsingNonZeroWinding(false);
    return path;
}

juce::Path hintIn(juce::Rectangle<float> a) {
    juce::Path path;
    path.addEllipse(a);
    const float bar = a.getWidth() * 0.13F;
    path.addRectangle(a.getCentreX() - bar / 2, a.getY() + a.getHeight() * 0.22F, bar, bar);
    path.addRectangle(a.getCentreX() - bar / 2, a.getY() + a.getHeight() * 0.44F, bar, a.getHeight() * 0.34F);
    path.setUsingNonZeroWinding(false);
    return path;
}

juce::Path breathIn(juce::Rectangle<float> a) {
    juce::Path path = glyphPath(Glyph::breathComma);
    path.applyTransform(path.getTransformToScaleToFit(a, true));
    return path;
}

/// A small note head with a plus.
juce::Path extraNoteIn(juce::Rectangle<float> a) {
    const float size = a.getWidth();
    juce::Path path;
    path.addEllipse(-0.34F * size, -0.23F * size, 0.68F * size, 0.46F * size);
    path.applyTransform(
        juce::AffineTransform::rotation(-0.35F).translated(a.getX() + 0.36F * size, a.getY() + 0.70F * size));
    const float bar = juce::jmax(1.5F, 0.13F * size);
    const juce::Point<float> middle(a.getX() + 0.76F * size, a.getY() + 0.26F * size);
    const float arm = 0.24F * size;
    path.addRectangle(middle.x - arm, middle.y - bar / 2, 2 * arm, bar);
    path.addRectangle(middle.x - bar / 2, middle.y - arm, bar, 2 * arm);
    return path;
}

juce::Rectangle<float> capsuleIn(juce::Rectangle<float> a) {
    return a.withSizeKeepingCentre(a.getHeight() * 0.62F, a.getHeight());
}

/// A valve, struck through.
juce::Path otherValvesIn(juce::Rectangle<float> a) {
    const auto capsule = capsuleIn(a).reduced(1.0F);
    juce::Path path;
    path.addRoundedRectangle(capsule, capsule.getWidth() / 2);
    path.startNewSubPath(a.getX(), a.getBottom() - a.getHeight() * 0.12F);
    path.lineTo(a.getRight(), a.getY() + a.getHeight() * 0.12F);
    return path;
}

} // namespace

void paintSign(juce::Graphics& g, Sign sign, juce::Rectangle<float> area, juce::Colour colour) {
    g.setColour(colour);
    const juce::PathStrokeType stroke(juce::jmax(1.5F, area.getWidth() * 0.14F));
    switch (sign) {
    case Sign::tick:
        g.strokePath(tickIn(area), stroke);
        break;
    case Sign::cross:
        g.strokePath(crossIn(area), stroke);
        break;
    case Sign::warning:
        g.fillPath(warningIn(area));
        break;
    case Sign::hint:
        g.fillPath(hintIn(area));
        break;
    case Sign::open:
        g.drawEllipse(area.reduced(1.0F), juce::jmax(1.5F, area.getWidth() * 0.1F));
        break;
    case Sign::breath:
        g.fillPath(breathIn(area));
        break;
    case Sign::extraNote:
        g.fillPath(extraNoteIn(area));
        break;
    case Sign::otherValves:
        g.strokePath(otherValvesIn(area), stroke);
        break;
    case Sign::finger:
        g.fillRoundedRectangle(capsuleIn(area), capsuleIn(area).getWidth() / 2);
        break;
    }
}

} // namespace valveladder
