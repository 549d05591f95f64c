#include "Screen/FirstSheet.h"

#include "Ladder/PitchNames.h"
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
constexpr float leastSpace = 7.0F; ///< that is read with ease

/// What each line of music has, where so many breaths stand on so many lines each.
juce::Rectangle<float> lineRoom(juce::Rectangle<float> area, int breaths, int lines) {
    const float breath =
        std::min(largestBreath * static_cast<float>(lines), area.getHeight() / static_cast<float>(breaths));
    return area.withHeight((breath - nameHeight) / static_cast<float>(lines));
}

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

std::optional<SegmentStaff> FirstSheet::staffOf(int segment, const SegmentLine& line,
                                                juce::Rectangle<float> room, float space) const {
    const Instrument& instrument = setup->config.instrument;
    return segmentStaff(setup->score(), instrument, setup->config.drill,
                        pitchNames(chosenSpelling, false, instrument).spelling, 0, segment, room, space,
                        line);
}

float FirstSheet::sharedSpace(int count, int lines, juce::Rectangle<float> room) const {
    float space = largestSpace;
    for (int segment = 0; segment < count; ++segment)
        for (int line = 0; line < lines; ++line)
            if (const auto staff = staffOf(segment, {line, lines}, room, space))
                space = std::min(space, staff->place.space);
    return space;
}

void FirstSheet::addBreaths(juce::Rectangle<float> area, int count, int lines) {
    const auto whole = lineRoom(area, count, lines);
    const float space = sharedSpace(count, lines, whole);
    for (int segment = 0; segment < count; ++segment) {
        Breath breath;
        breath.name = toText(setup->score().segmentNames[static_cast<std::size_t>(segment)]);
        breath.nameArea = area.removeFromTop(nameHeight);
        for (int line = 0; line < lines; ++line)
            if (auto staff = staffOf(segment, {line, lines}, area.removeFromTop(whole.getHeight()), space))
                breath.staves.push_back(std::move(*staff));
        if (!breath.staves.empty())
            breaths.push_back(std::move(breath));
    }
}

/// As many breaths as fit, all of one size; where several would be too small to read, the even one alone,
/// which is the widest set.
void FirstSheet::layOut() {
    breaths.clear();
    repaint();
    if (setup == nullptr)
        return;
    auto area = inside();
    area.removeFromTop(heightOf(words::whatHappensTitle, headFont(), area.getWidth()) + gap +
                       heightOf(words::whatHappens, wordsFont(), area.getWidth()) + gap);
    const int fit = static_cast<int>(area.getHeight() / leastBreath);
    const int count = std::min(fit, static_cast<int>(setup->score().segmentNames.size()));
    if (count <= 0)
        return;
    const auto isLegible = [&](int breathCount) {
        return sharedSpace(breathCount, 1, lineRoom(area, breathCount, 1)) >= leastSpace;
    };
    if (isLegible(count))
        addBreaths(area, count, 1);
    else
        addBreaths(area, 1, isLegible(1) || fit < 2 ? 1 : 2);
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
        for (const SegmentStaff& staff : breath.staves)
            paintEngraving(g, staff.music, staff.place, theme.ink, theme.staffLine);
    }
}

} // namespace valveladder
