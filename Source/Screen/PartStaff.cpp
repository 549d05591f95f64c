#include "Screen/PartStaff.h"

#include "Engraving/SheetContents.h"
#include "Screen/EngravingPainter.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/ValveCaps.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int mostBars = 8; ///< of a longer spot the first ones
constexpr float largestSpace = 56.0F;
constexpr float smallestSpace = 5.0F;
constexpr double edge = 1.0;         ///< staff spaces
constexpr double mostStretch = 3.0;  ///< a few bars alone have the whole line
constexpr float betweenTexts = 3.0F; ///< px
constexpr float cutHeight = 22.0F;
constexpr float leastLane = 8.0F;   ///< px, of one with its valve's number before it
constexpr float numberShare = 1.2F; ///< letters over the lane; figures are lower than letters
constexpr float numberGap = 4.0F;   ///< px

/// The first `bars` of a spot.
Result<SheetContent> contentOf(const OpenedPart& part, const Spot& spot, int bars) {
    auto content = partContent(part.line, part.marking, {}, part.request.instrument, "", spot.firstBar, bars);
    if (!content)
        return content;
    content.value().title.clear();
    content.value().heading.clear();
    content.value().bpm = 0.0;
    content.value().margin = edge;
    content.value().mostStretch = mostStretch;
    return content;
}

/// That the first `bars` of a spot are not all; empty where they are.
juce::String cutWords(const OpenedPart& part, const Spot& spot, int bars) {
    const int last = spot.firstBar + bars - 1;
    if (last >= spot.lastBar)
        return {};
    const auto number = [&](int bar) { return part.line.bars[static_cast<std::size_t>(bar)].number; };
    return toText(words::firstBarsOf(number(spot.firstBar), number(last), number(spot.lastBar)));
}

bool isQuiet(TextStyle style) {
    return style == TextStyle::alternate || style == TextStyle::small;
}

} // namespace

PartStaff::PartStaff() {
    setTitle(words::spotBarsTitle);
    setOpaque(true);
}

void PartStaff::show(std::shared_ptr<const OpenedPart> part, int spot) {
    if (part == shown && spot == spotShown)
        return;
    shown = std::move(part);
    spotShown = spot;
    const bool any = shown && spot >= 0 && spot < static_cast<int>(shown->spots.size());
    setDescription(any ? toText(shown->spots[static_cast<std::size_t>(spot)].words) : juce::String());
    layOut();
}

int PartStaff::notesShown() const {
    int notes = 0;
    for (const PlacedSystem& system : page.systems)
        notes += system.page.noteCount;
    return notes;
}

/// Under all that is on the page, px.
float PartStaff::inkBottom() const {
    double bottom = 0.0;
    for (const PlacedSystem& system : page.systems)
        bottom = std::max(
            {bottom, system.y + system.music.bottom, system.y + system.stripTop + laneHeight * system.lanes});
    for (const SheetText& text : page.texts)
        bottom = std::max(bottom, text.y);
    return static_cast<float>(bottom + edge) * space;
}

/// As large as fits on one page, in the middle of the height. Where fingerings would not stand apart, the
/// valve strip gives way, then bars from the last one on, then alternate fingerings.
void PartStaff::layOut() {
    page = {};
    refusal.clear();
    cut.clear();
    drop = 0.0F;
    repaint();
    if (!shown || spotShown < 0 || spotShown >= static_cast<int>(shown->spots.size()) || getWidth() == 0 ||
        getHeight() == 0)
        return;
    const Spot& spot = shown->spots[static_cast<std::size_t>(spotShown)];
    for (int bars = std::min(mostBars, spot.lastBar - spot.firstBar + 1); bars > 0; --bars) {
        auto content = contentOf(*shown, spot, bars);
        if (!content) {
            refusal = toText(content.problem().text());
            setDescription(refusal);
            return;
        }
        cut = cutWords(*shown, spot, bars);
        if (layOutLargest(content.value()))
            break;
        content.value().valveStrip = false;
        if (layOutLargest(content.value()))
            break;
        if (bars == 1) {
            for (NoteFingering& fingering : content.value().fingerings)
                fingering.alternate.clear();
            layOutLargest(content.value());
        }
    }
    drop = std::max(0.0F, std::floor((heightForMusic() - inkBottom()) / 2));
}

/// Over the line that says that there are more bars, where there are.
float PartStaff::heightForMusic() const {
    return static_cast<float>(getHeight()) - (cut.isEmpty() ? 0.0F : cutHeight);
}

/// Whether any size fits with its fingerings apart; else the smallest one's first page is laid out.
bool PartStaff::layOutLargest(const SheetContent& content) {
    if (!layOutIn(content, smallestSpace))
        return false;
    float fits = smallestSpace;
    for (float tooLarge = largestSpace + 1.0F; tooLarge - fits > 1.0F;) {
        const float tried = std::floor((fits + tooLarge) / 2);
        (layOutIn(content, tried) ? fits : tooLarge) = tried;
    }
    for (; fits >= smallestSpace; fits -= 1.0F)
        if (layOutIn(content, fits) && fingeringsStandApart())
            return true;
    return false;
}

/// Notes stand closer the larger the staff is on its line, and letters have a least size.
bool PartStaff::fingeringsStandApart() const {
    std::vector<juce::Rectangle<float>> areas;
    for (const SheetText& text : page.texts)
        if (text.note >= 0)
            areas.push_back(inkOf(text).expanded(betweenTexts / 2, 0.0F));
    for (std::size_t i = 0; i < areas.size(); ++i)
        for (std::size_t j = i + 1; j < areas.size(); ++j)
            if (areas[i].intersects(areas[j]))
                return false;
    return true;
}

bool PartStaff::layOutIn(const SheetContent& content, float staffSpace) {
    space = staffSpace;
    const double mm = paperSpaceMm / static_cast<double>(space);
    auto pages = printedPages(content, {getWidth() * mm, static_cast<double>(heightForMusic()) * mm});
    page = std::move(pages.front());
    return pages.size() == 1;
}

void PartStaff::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.fillAll(theme.ground);
    g.setColour(theme.paper);
    g.fillRoundedRectangle(getLocalBounds().toFloat(), grid::corner);
    if (refusal.isNotEmpty()) {
        g.setColour(theme.ink);
        g.setFont(plainFont(grid::body));
        drawWrapped(g, refusal, plainFont(grid::body), getLocalBounds().toFloat().reduced(grid::corner));
        return;
    }
    g.setColour(theme.quietInk);
    g.setFont(plainFont(grid::caption));
    drawLine(g, cut,
             getLocalBounds().toFloat().reduced(grid::gutter, 4.0F).removeFromBottom(cutHeight - 4.0F),
             juce::Justification::centredRight);
    g.addTransform(juce::AffineTransform::translation(0.0F, drop));
    for (const PlacedSystem& system : page.systems)
        paintSystem(g, system);
    for (const SheetText& text : page.texts)
        paintText(g, text);
}

void PartStaff::paintSystem(juce::Graphics& g, const PlacedSystem& system) const {
    const Theme& theme = Look::themeOf(*this);
    const StaffPlace place{static_cast<float>(system.x) * space, static_cast<float>(system.y) * space, space};
    paintEngraving(g, system.music, place, theme.ink, theme.staffLine);
    for (int valve = 1; valve <= system.lanes; ++valve) {
        const float foot = place.y(system.stripTop + laneHeight * valve);
        const float left = place.x(system.music.timeLeft - 1.0);
        g.setColour(theme.faintInk);
        g.fillRect(left, foot - 1.0F, place.x(system.music.timeRight) - left, 1.0F);
        const float high = static_cast<float>(laneHeight) * space;
        if (high < leastLane)
            continue;
        g.setColour(theme.quietInk);
        g.setFont(plainFont(high * numberShare));
        const juce::Rectangle<float> before(0.0F, foot - high, left - numberGap, high);
        drawLine(g, toText(valveName(valve, shown->request.instrument.thumbValve)), before,
                 juce::Justification::centredRight);
    }
    for (const ValveHold& hold : system.holds) {
        const float left = place.x(system.music.xAt(static_cast<double>(hold.from)) - bravura::headWidth / 2);
        const float right = place.x(system.music.xAt(static_cast<double>(hold.to)) - bravura::headWidth / 2);
        const float top = place.y(system.stripTop + laneHeight * (hold.valve - 1) + 0.2);
        const juce::Rectangle<float> bar(left, top, right - left,
                                         place.y(system.stripTop + laneHeight * hold.valve) - top - 1.0F);
        paintHold(g, bar, theme.accent, theme.accentInk);
    }
}

void PartStaff::paintText(juce::Graphics& g, const SheetText& text) const {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(isQuiet(text.style) ? theme.quietInk : theme.ink);
    g.setFont(fontOf(text.style));
    drawLine(g, toText(text.text), areaOf(text), juce::Justification::centred);
}

juce::Font PartStaff::fontOf(TextStyle style) const {
    const auto height = juce::jmax(grid::caption - 1.0F, static_cast<float>(textHeight(style)) * space);
    return isQuiet(style) ? plainFont(height) : boldFont(height);
}

/// What letters of a line cover, from above a bracket to under it, px.
juce::Rectangle<float> PartStaff::inkOf(const SheetText& text) const {
    const float height = fontOf(text.style).getHeight();
    return areaOf(text).withTrimmedTop(0.22F * height).withTrimmedBottom(0.15F * height);
}

/// Where its line stands, px.
juce::Rectangle<float> PartStaff::areaOf(const SheetText& text) const {
    const juce::Font font = fontOf(text.style);
    const float width = std::ceil(textWidth(font, toText(text.text))) + 1.0F;
    const float before = text.align == TextAlign::left     ? 0.0F
                         : text.align == TextAlign::centre ? width / 2
                                                           : width;
    return {static_cast<float>(text.x) * space - before,
            static_cast<float>(text.y) * space - font.getHeight(), width, font.getHeight() * 1.3F};
}

} // namespace valveladder
