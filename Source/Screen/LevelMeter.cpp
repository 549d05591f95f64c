#include "Screen/LevelMeter.h"

#include "Screen/Look.h"
#include "View/Words.h"

#include <cmath>

namespace valveladder {

namespace {

constexpr int bars = 20;
constexpr double quietestDb = -60.0;
constexpr int hotBars = 1; ///< at the top: nearly full scale

} // namespace

LevelMeter::LevelMeter() {
    setTitle(words::levelTitle);
    setTooltip(words::levelHelp);
    setSaid(words::levelSilent);
}

void LevelMeter::show(double peak) {
    const double db = peak > 0.0 ? 20.0 * std::log10(peak) : quietestDb;
    const int next = juce::jlimit(0, bars, static_cast<int>(std::ceil((1.0 - db / quietestDb) * bars)));
    if (next == lit)
        return;
    lit = next;
    setSaid(lit == 0 ? words::levelSilent : lit > bars - hotBars ? words::levelHot : words::levelHeard);
    repaint();
}

void LevelMeter::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    auto area = getLocalBounds().toFloat();
    const float step = area.getWidth() / static_cast<float>(bars);
    for (int i = 0; i < bars; ++i) {
        g.setColour(i >= lit ? theme.raised : i >= bars - hotBars ? theme.alarm : theme.good);
        g.fillRoundedRectangle(area.removeFromLeft(step).withTrimmedRight(step * 0.3F), 1.5F);
    }
}

} // namespace valveladder
