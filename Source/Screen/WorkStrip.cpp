#include "Screen/WorkStrip.h"

#include "Screen/Look.h"
#include "Screen/Type.h"
#include "Screen/Wrap.h"
#include "View/Words.h"

#include <algorithm>
#include <cmath>

namespace valveladder {

namespace {

constexpr int stopWidth = 64;
constexpr float barHeight = 5.0F;
constexpr float moverShare = 0.25F;

} // namespace

WorkStrip::WorkStrip() {
    setTitle(words::workTitle);
    bar.setTitle(words::workTitle);
    stopButton.setButtonText(words::stopWork);
    stopButton.setTitle(words::stopWork);
    stopButton.setTooltip(words::stopWorkHelp);
    stopButton.setWantsKeyboardFocus(true);
    stopButton.onClick = [this] {
        if (const WorkProgress* work = current(); work != nullptr && work->stop)
            work->stop();
    };
    addAndMakeVisible(bar);
    addAndMakeVisible(stopButton);
}

const WorkProgress* WorkStrip::current() const {
    const auto found =
        std::find_if(works.begin(), works.end(), [](const WorkProgress& work) { return work.running(); });
    return found == works.end() ? nullptr : &*found;
}

bool WorkStrip::refresh(double nowSeconds) {
    const WorkProgress* work = current();
    if (work == nullptr) {
        since.reset();
        return false;
    }
    if (!since)
        since = nowSeconds;
    if (nowSeconds - *since < quickSeconds)
        return false;
    bar.show(work->words, work->share ? work->share() : std::nullopt, nowSeconds);
    return true;
}

void WorkStrip::resized() {
    auto area = getLocalBounds();
    stopButton.setBounds(area.removeFromRight(stopWidth).withSizeKeepingCentre(stopWidth, grid::control));
    bar.setBounds(area.withTrimmedRight(grid::unit));
}

void WorkStrip::Bar::show(const std::string& text, std::optional<double> newShare, double nowSeconds) {
    what = text;
    share = newShare;
    phase = nowSeconds / 2.0 - std::floor(nowSeconds / 2.0);
    setSaid(toText(words::workState(what, share)));
    repaint();
}

void WorkStrip::Bar::paint(juce::Graphics& g) {
    const Theme& theme = Look::themeOf(*this);
    auto area = getLocalBounds().toFloat();
    area = area.withSizeKeepingCentre(area.getWidth(), 30.0F);
    g.setColour(theme.text);
    g.setFont(plainFont(grid::body));
    drawLine(g, toText(words::workState(what, share)), area.removeFromTop(22.0F),
             juce::Justification::centredLeft);
    const auto track = area.removeFromTop(barHeight);
    g.setColour(theme.raised);
    g.fillRect(track);
    g.setColour(theme.accent);
    if (share) {
        g.fillRect(track.withWidth(track.getWidth() * static_cast<float>(std::clamp(*share, 0.0, 1.0))));
        return;
    }
    const float width = track.getWidth() * moverShare;
    g.fillRect(track.withWidth(width).translated(static_cast<float>(phase) * (track.getWidth() - width), 0));
}

} // namespace valveladder
