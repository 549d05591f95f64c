#include "Screen/FingerCaps.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/ValveCaps.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

namespace valveladder {

namespace {

constexpr float figureHeight = 26.0F;
constexpr float slotShare = 0.5F; ///< a finger's width over its height, with the gap

} // namespace

FingerCaps::FingerCaps() {
    setTitle(words::handTitle);
}

void FingerCaps::show(const StairModel& model) {
    fingers.clear();
    juce::String said;
    for (int finger = 1; finger <= model.fingersOnHand; ++finger) {
        const WhiskerModel* shown = nullptr;
        for (const WhiskerModel& whisker : model.fingers)
            if (whisker.finger == finger &&
                (shown == nullptr || whisker.claimed > shown->claimed ||
                 (whisker.claimed == shown->claimed && whisker.ms.value > shown->ms.value)))
                shown = &whisker;
        Finger cap;
        cap.number = toText(valveName(finger, model.thumbValve));
        if (shown != nullptr) {
            cap.ms = toText(words::milliseconds(shown->ms.value));
            cap.slow = shown->claimed;
            said << toText(words::whiskerWords(shown->name, shown->ms, shown->claimed)) << ". ";
        }
        fingers.push_back(cap);
    }
    if (said.isEmpty())
        fingers.clear();
    setSaid(said);
    repaint();
}

int FingerCaps::widthFor(int height) const {
    const float slot = juce::jlimit(64.0F, 80.0F, (static_cast<float>(height) - figureHeight) * slotShare);
    return static_cast<int>(slot * static_cast<float>(fingers.size()));
}

void FingerCaps::paint(juce::Graphics& g) {
    if (fingers.empty())
        return;
    const Theme& theme = Look::themeOf(*this);
    auto area = getLocalBounds().toFloat();
    const float slot = area.getWidth() / static_cast<float>(fingers.size());
    for (const Finger& finger : fingers) {
        auto column = area.removeFromLeft(slot).reduced(4.0F, 0.0F);
        const auto figure = column.removeFromBottom(figureHeight);
        const float width = std::min(column.getWidth(), column.getHeight() * 0.46F);
        paintValve(g, column.withSizeKeepingCentre(width, column.getHeight()), finger.number, finger.slow,
                   {theme.alarm, theme.onAlarm, theme.line, theme.quiet});
        g.setColour(finger.slow ? theme.text : theme.quiet);
        g.setFont(finger.slow ? boldFont(grid::body) : plainFont(grid::body));
        drawLine(g, finger.ms, figure, juce::Justification::centred);
    }
}

} // namespace valveladder
