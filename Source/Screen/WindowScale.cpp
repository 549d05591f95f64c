#include "Screen/WindowScale.h"

#include "Screen/SteadySeconds.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr double hostsPatience = 0.5; ///< seconds in which a host may still follow
constexpr double leastGain = 0.01;    ///< of scale, for which the window is laid out anew

} // namespace

WindowSize WindowScale::roomFor(int percent) const {
    const auto* display =
        juce::Desktop::getInstance().getDisplays().getDisplayForRect(window.getScreenBounds());
    if (display == nullptr)
        return {WindowSize::usualWidth, WindowSize::usualHeight, percent};
    return windowSizeFor(display->userArea.getWidth(), display->userArea.getHeight(), percent);
}

void WindowScale::want(int percent) {
    const WindowSize size = roomFor(percent);
    if (size.scalePercent != percentInUse) {
        percentInUse = size.scalePercent;
        scaleTaken = size.scalePercent / 100.0;
        window.setScaleFactor(static_cast<float>(scaleTaken));
    }
    if (window.getWidth() > size.mostWidth || window.getHeight() > size.mostHeight)
        window.setSize(std::min(window.getWidth(), size.mostWidth),
                       std::min(window.getHeight(), size.mostHeight));
}

bool WindowScale::standsOutOfItsHost() const {
    const auto* host = window.getParentComponent();
    if (!inHost || host == nullptr || host->getLocalBounds().isEmpty())
        return false;
    return !host->getLocalBounds().expanded(1).contains(window.getBoundsInParent());
}

void WindowScale::fitIntoHost() {
    if (!standsOutOfItsHost()) {
        standsOutSince.reset();
        return;
    }
    const double now = steadySeconds();
    if (!standsOutSince)
        standsOutSince = now;
    if (now - *standsOutSince < hostsPatience)
        return;
    standsOutSince.reset();
    const auto* host = window.getParentComponent();
    take(fittedInto(host->getWidth(), host->getHeight(), percentInUse / 100.0));
}

void WindowScale::hostResized() {
    const auto* host = window.getParentComponent();
    if (!inHost || host == nullptr || scaleTaken >= percentInUse / 100.0 - leastGain)
        return;
    const FittedSize size = fittedInto(host->getWidth(), host->getHeight(), percentInUse / 100.0);
    if (size.scale > scaleTaken + leastGain)
        take(size);
}

void WindowScale::take(const FittedSize& size) {
    scaleTaken = size.scale;
    window.setScaleFactor(static_cast<float>(size.scale));
    window.setSize(size.width, size.height);
}

} // namespace valveladder
