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
constexpr double edge = 1.0; ///< staff spaces

Result<SheetContent> contentOf(const OpenedPart& part, int spot) {
    const Spot& chosen = part.spots[static_cast<std::size_t>(spot)];
    const int bars = std::min(mostBars, chosen.lastBar - chosen.firstBar + 1);
    auto content =
        partContent(part.line, part.marking, {}, part.request.instrument, "", chosen.firstBar, bars);
    if (!content)
        return content;
    content.value().title.clear();
    content.value().heading.clear();
    content.value().bpm = 0.0;
    content.value().margin = edge;
    return content;
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

/// As large as fits on one page, in the middle of the height.
void PartStaff::layOut() {
    page = {};
    refusal.clear();
    drop = 0.0F;
    repaint();
    if (!shown || spotShown < 0 || spotShown >= static_cast<int>(shown->spots.size()) || getWidth() == 0 ||
        getHeight() == 0)
        return;
    const auto content = contentOf(*shown, spotShown);
    if (!content) {
        refusal = toText(content.problem().text());
        setDescription(refusal);
        return;
    }
    if (!layOutIn(content.value(), smallestSpace))
        return; // no size fits: the smallest one's first page
    float fits = smallestSpace;
    for (float tooLarge = largestSpace + 1.0F; tooLarge - fits > 1.0F;) {
        const float tried = std::floor((fits + tooLarge) / 2);
        (layOutIn(content.value(), tried) ? fits : tooLarge) = tried;
    }
    layOutIn(content.value(), fits);
    drop = std::max(0.0F, std::floor((static_cast<float>(getHeight()) - inkBottom()) / 2));
}

bool PartStaff::layOutIn(const SheetContent& content, float staffSpace) {
    space = staffSpace;
    const double mm = paperSpaceMm / static_cast<double>(space);
    auto pages = printedPages(content, {getWidth() * mm, getHeight() * mm});
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
        g.setColour(theme.faintInk);
        g.fillRect(place.x(system.music.timeLeft - 1.0), foot - 1.0F,
                   place.x(system.music.timeRight) - place.x(system.music.timeLeft - 1.0), 1.0F);
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
    const bool quiet = text.style == TextStyle::alternate || text.style == TextStyle::small;
    g.setColour(quiet ? theme.quietInk : theme.ink);
    const auto height = juce::jmax(grid::caption - 1.0F, static_cast<float>(textHeight(text.style)) * space);
    g.setFont(quiet ? plainFont(height) : boldFont(height));
    const float width = 30.0F * space;
    const float x = static_cast<float>(text.x) * space - (text.align == TextAlign::centre ? width / 2 : 0.0F);
    const float baseline = static_cast<float>(text.y) * space;
    drawLine(g, toText(text.text), juce::Rectangle<float>(x, baseline - height, width, height * 1.3F),
             text.align == TextAlign::centre ? juce::Justification::centred
                                             : juce::Justification::centredLeft);
}

} // namespace valveladder
