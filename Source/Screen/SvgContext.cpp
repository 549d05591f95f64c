#include "Screen/SvgContext.h"

namespace valveladder {

namespace {

juce::String number(float value) {
    return juce::String(std::round(value * 100.0F) / 100.0F);
}

juce::String dataOf(const juce::Path& path) {
    juce::String data;
    juce::Path::Iterator at(path);
    const auto pair = [](float x, float y) { return number(x) + " " + number(y); };
    while (at.next())
        switch (at.elementType) {
        case juce::Path::Iterator::startNewSubPath:
            data << "M" << pair(at.x1, at.y1);
            break;
        case juce::Path::Iterator::lineTo:
            data << "L" << pair(at.x1, at.y1);
            break;
        case juce::Path::Iterator::quadraticTo:
            data << "Q" << pair(at.x1, at.y1) << " " << pair(at.x2, at.y2);
            break;
        case juce::Path::Iterator::cubicTo:
            data << "C" << pair(at.x1, at.y1) << " " << pair(at.x2, at.y2) << " " << pair(at.x3, at.y3);
            break;
        case juce::Path::Iterator::closePath:
            data << "Z";
            break;
        }
    return data;
}

const char* ruleOf(const juce::Path& path) {
    return path.isUsingNonZeroWinding() ? "nonzero" : "evenodd";
}

juce::String box(juce::Rectangle<float> area) {
    return "x=\"" + number(area.getX()) + "\" y=\"" + number(area.getY()) + "\" width=\"" +
           number(area.getWidth()) + "\" height=\"" + number(area.getHeight()) + "\"";
}

} // namespace

SvgContext::SvgContext(int w, int h) : width(w), height(h) {
    State first;
    first.clip = {0.0F, 0.0F, static_cast<float>(w), static_cast<float>(h)};
    states.push_back(first);
}

juce::String SvgContext::document() const {
    juce::String text;
    text << "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" "
            "xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\""
         << width << "\" height=\"" << height << "\" viewBox=\"0 0 " << width << " " << height
         << "\">\n<defs>\n"
         << definitions << "</defs>\n"
         << body << "</svg>\n";
    return text;
}

void SvgContext::setOrigin(juce::Point<int> origin) {
    addTransform(juce::AffineTransform::translation(origin.toFloat()));
}

void SvgContext::addTransform(const juce::AffineTransform& transform) {
    states.back().transform = transform.followedBy(states.back().transform);
}

juce::Rectangle<float> SvgContext::onPage(juce::Rectangle<float> area) const {
    return area.transformedBy(states.back().transform);
}

bool SvgContext::clipToRectangle(const juce::Rectangle<int>& area) {
    states.back().clip = states.back().clip.getIntersection(onPage(area.toFloat()));
    return !isClipEmpty();
}

bool SvgContext::clipToRectangleList(const juce::RectangleList<int>& areas) {
    return clipToRectangle(areas.getBounds());
}

/// Parts that opaque children will cover: drawing them first does no harm on a page.
void SvgContext::excludeClipRectangle(const juce::Rectangle<int>&) {}

void SvgContext::clipToPath(const juce::Path& path, const juce::AffineTransform& transform) {
    juce::Path placed = path;
    placed.applyTransform(transform.followedBy(states.back().transform));
    states.back().clip = states.back().clip.getIntersection(placed.getBounds());
    const juce::String id = "c" + juce::String(++clips);
    definitions << "<clipPath id=\"" << id << "\"><path d=\"" << dataOf(placed) << "\" clip-rule=\""
                << ruleOf(placed) << "\"/></clipPath>\n";
    states.back().clipId = id;
}

void SvgContext::clipToImageAlpha(const juce::Image& image, const juce::AffineTransform& transform) {
    juce::Path area;
    area.addRectangle(image.getBounds());
    clipToPath(area, transform);
}

bool SvgContext::clipRegionIntersects(const juce::Rectangle<int>& area) {
    return states.back().clip.intersects(onPage(area.toFloat()));
}

juce::Rectangle<int> SvgContext::getClipBounds() const {
    return states.back().clip.transformedBy(states.back().transform.inverted()).getSmallestIntegerContainer();
}

bool SvgContext::isClipEmpty() const {
    return states.back().clip.isEmpty();
}

void SvgContext::saveState() {
    states.push_back(states.back());
}

void SvgContext::restoreState() {
    if (states.size() > 1)
        states.pop_back();
}

void SvgContext::beginTransparencyLayer(float opacity) {
    saveState();
    states.back().opacity *= opacity;
}

void SvgContext::endTransparencyLayer() {
    restoreState();
}

void SvgContext::setFill(const juce::FillType& fill) {
    states.back().fill = fill;
}

void SvgContext::setOpacity(float opacity) {
    states.back().fill.setOpacity(opacity);
}

juce::String SvgContext::fillText() const {
    const juce::Colour colour = states.back().fill.colour;
    const float alpha = colour.getFloatAlpha() * states.back().opacity;
    juce::String text = "fill=\"#" + colour.toDisplayString(false).toLowerCase() + "\"";
    if (alpha < 0.999F)
        text << " fill-opacity=\"" << number(alpha) << "\"";
    return text;
}

void SvgContext::put(const juce::Path& path) {
    const State& state = states.back();
    const auto bounds = path.getBounds();
    if (path.isEmpty() || !state.clip.intersects(bounds.expanded(0.01F)) || state.fill.isInvisible())
        return;
    juce::String clip = state.clipId;
    if (clip.isEmpty() && !state.clip.contains(bounds)) {
        clip = "c" + juce::String(++clips);
        definitions << "<clipPath id=\"" << clip << "\"><rect " << box(state.clip) << "/></clipPath>\n";
    }
    body << "<path d=\"" << dataOf(path) << "\" " << fillText();
    if (!path.isUsingNonZeroWinding())
        body << " fill-rule=\"evenodd\"";
    if (clip.isNotEmpty())
        body << " clip-path=\"url(#" << clip << ")\"";
    body << "/>\n";
}

void SvgContext::fillRect(const juce::Rectangle<int>& area, bool) {
    fillRect(area.toFloat());
}

void SvgContext::fillRect(const juce::Rectangle<float>& area) {
    juce::Path path;
    path.addRectangle(area);
    fillPath(path, {});
}

void SvgContext::fillRectList(const juce::RectangleList<float>& areas) {
    fillPath(areas.toPath(), {});
}

void SvgContext::fillPath(const juce::Path& path, const juce::AffineTransform& transform) {
    juce::Path placed = path;
    placed.applyTransform(transform.followedBy(states.back().transform));
    put(placed);
}

void SvgContext::drawImage(const juce::Image& image, const juce::AffineTransform& transform) {
    juce::MemoryOutputStream bytes;
    juce::PNGImageFormat().writeImageToStream(image, bytes);
    const auto t = transform.followedBy(states.back().transform);
    body << "<image " << box(image.getBounds().toFloat()) << " transform=\"matrix(" << t.mat00 << " "
         << t.mat10 << " " << t.mat01 << " " << t.mat11 << " " << t.mat02 << " " << t.mat12
         << ")\" xlink:href=\"data:image/png;base64,"
         << juce::Base64::toBase64(bytes.getData(), bytes.getDataSize()) << "\"/>\n";
}

void SvgContext::drawLine(const juce::Line<float>& line) {
    juce::Path path;
    path.addLineSegment(line, 1.0F);
    fillPath(path, {});
}

void SvgContext::setFont(const juce::Font& font) {
    states.back().font = font;
}

const juce::Font& SvgContext::getFont() {
    return states.back().font;
}

void SvgContext::fillGlyph(const juce::Path& outline, const juce::AffineTransform& transform) {
    const juce::Font& font = states.back().font;
    fillPath(outline,
             juce::AffineTransform::scale(font.getHeight() * font.getHorizontalScale(), font.getHeight())
                 .followedBy(transform));
}

#if JUCE_MAJOR_VERSION >= 8
void SvgContext::drawGlyphs(juce::Span<const std::uint16_t> glyphs,
                            juce::Span<const juce::Point<float>> places,
                            const juce::AffineTransform& transform) {
    const juce::Font& font = states.back().font;
    for (std::size_t i = 0; i < glyphs.size(); ++i) {
        juce::Path outline;
        font.getTypefacePtr()->getOutlineForGlyph(font.getMetricsKind(), glyphs[i], outline);
        fillGlyph(outline, juce::AffineTransform::translation(places[i]).followedBy(transform));
    }
}
#else
void SvgContext::drawGlyph(int glyph, const juce::AffineTransform& transform) {
    juce::Path outline;
    states.back().font.getTypefacePtr()->getOutlineForGlyph(glyph, outline);
    fillGlyph(outline, transform);
}
#endif

} // namespace valveladder
