#include "Screen/LevelMeter.h"

#include "Base/Units.h"
#include "Screen/Look.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int steps = 20;
constexpr double quietestDb = -60.0;
constexpr int hotSteps = 1; ///< at the top: nearly full scale

} // namespace

LevelMeter::LevelMeter() {
    setTitle(words::levelTitle);
    setTooltip(words::levelHelp);
    setSaid(words::levelSilent);
}

void LevelMeter::show(double peak) {
    const double db = peak > 0.0 ? decibels(peak) : quietestDb;
    const int next = juce::jlimit(0, steps, static_cast<int>(std::ceil((1.0 - db / quietestDb) * steps)));
    if (next == lit)
        return;
    lit = next;
    setSaid(lit == 0 ? words::levelSilent : lit > steps - hotSteps ? words::levelHot : words::levelHeard);
    repaint();
}

/// A valve lying: it fills from the left.
void LevelMeter::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    const auto area = getLocalBounds().toFloat().reduced(1.0F);
    const float round = area.getHeight() / 2;
    g.setColour(theme.raised);
    g.fillRoundedRectangle(area, round);
    g.setColour(theme.quiet);
    g.drawRoundedRectangle(area, round, 1.0F);
    if (lit == 0)
        return;
    const float room = area.getWidth() - area.getHeight();
    g.setColour(lit > steps - hotSteps ? theme.alarm : theme.good);
    g.fillRoundedRectangle(
        area.withWidth(area.getHeight() + room * static_cast<float>(lit) / static_cast<float>(steps))
            .reduced(2.0F),
        round - 2.0F);
}

} // namespace valveladder
