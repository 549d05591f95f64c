#include "Screen/FirstSheet.h"

#include "Ladder/RungName.h"
#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr float sideEdge = 20.0F;
constexpr float headEdge = 14.0F;
constexpr float gap = 6.0F;
constexpr int wide = 560;            ///< from here on the words are larger
constexpr float nameHeight = 20.0F;  ///< of a segment, over its line
constexpr float leastBreath = 84.0F; ///< a line of music with its name
constexpr float largestBreath = 210.0F;
constexpr float largestSpace = 18.0F;
constexpr float leastSpace = 7.0F; ///< of several breaths

} // namespace

FirstSheet::FirstSheet() {
    setTitle(words::whatHappensTitle);
    setDescription(words::whatHappens);
}

void FirstSheet::show(const std::shared_ptr<const SessionSetup>& wanted, std::optional<Spelling> spelling) {
    if (wanted == setup && spelling == chosenSpelling)
        return;
    setup = wanted;
    chosenSpelling = spelling;
    layOut();
}

juce::Rectangle<float> FirstSheet::inside() const {
    return getLocalBounds().toFloat().reduced(sideEdge, headEdge);
}

juce::Font FirstSheet::headFont() const {
    return boldFont(getWidth() < wide ? grid::lead : grid::title);
}

juce::Font FirstSheet::wordsFont() const {
    return plainFont(getWidth() < wide ? grid::body : grid::lead);
}

std::optional<SegmentStaff> FirstSheet::staffOf(int segment, juce::Rectangle<float> room, float space) const {
    const Instrument& instrument = setup->config.instrument;
    return segmentStaff(setup->score(), instrument, setup->config.drill,
                        pitchNames(chosenSpelling, false, instrument).spelling, 0, segment, room, space);
}

float FirstSheet::sharedSpace(int count, juce::Rectangle<float> room) const {
    float space = largestSpace;
    for (int segment = 0; segment < count; ++segment)
        if (const auto staff = staffOf(segment, room, space))
            space = std::min(space, staff->place.space);
    return space;
}

/// As many breaths as fit, all of one size; one alone where several would be too small to read.
void FirstSheet::layOut() {
    breaths.clear();
    repaint();
    if (setup == nullptr)
        return;
    auto area = inside();
    area.removeFromTop(heightOf(words::whatHappensTitle, headFont(), area.getWidth()) + gap +
                       heightOf(words::whatHappens, wordsFont(), area.getWidth()) + gap);
    const auto& names = setup->score().segmentNames;
    const int fit = static_cast<int>(area.getHeight() / leastBreath);
    int count = std::min(fit, static_cast<int>(names.size()));
    if (count <= 0)
        return;
    const auto highOf = [&area](int lines) {
        return std::min(largestBreath, area.getHeight() / static_cast<float>(lines));
    };
    if (sharedSpace(count, area.withHeight(highOf(count)).withTrimmedTop(nameHeight)) < leastSpace)
        count = 1; // the even one, which is the widest set
    const float high = highOf(count);
    const float space = sharedSpace(count, area.withHeight(high).withTrimmedTop(nameHeight));
    for (int segment = 0; segment < count; ++segment) {
        auto room = area.removeFromTop(high);
        const auto nameArea = room.removeFromTop(nameHeight);
        if (auto staff = staffOf(segment, room, space))
            breaths.push_back(
                {toText(names[static_cast<std::size_t>(segment)]), nameArea, std::move(*staff)});
    }
}

void FirstSheet::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    g.setColour(theme.paper);
    g.fillRoundedRectangle(getLocalBounds().toFloat(), grid::corner);
    g.setColour(theme.ink);
    auto area = drawWrapped(g, words::whatHappensTitle, headFont(), inside());
    g.setColour(theme.quietInk);
    drawWrapped(g, words::whatHappens, wordsFont(), area.withTrimmedTop(gap));
    for (const Breath& breath : breaths) {
        g.setColour(theme.quietInk);
        g.setFont(boldFont(grid::caption));
        drawLine(g, breath.name, breath.nameArea, juce::Justification::centredLeft);
        paintEngraving(g, breath.staff.music, breath.staff.place, theme.ink, theme.staffLine);
    }
}

} // namespace valveladder
