// The window in a host that gives it less room than it asks for.

#include "Screen/Window.h"

namespace valveladder {

namespace {

constexpr double hostsPatience = 0.5; ///< seconds in which a host may still follow
constexpr double leastGain = 0.01;    ///< of scale, for which the window is laid out anew

} // namespace

bool Window::standsOutOfItsHost() const {
    const auto* host = getParentComponent();
    if (!isHosted(owner) || host == nullptr || host->getLocalBounds().isEmpty())
        return false;
    return !host->getLocalBounds().expanded(1).contains(getBoundsInParent());
}

void Window::fitIntoHost() {
    if (!standsOutOfItsHost()) {
        standsOutSince.reset();
        return;
    }
    const double now = juce::Time::getMillisecondCounterHiRes() / 1000.0;
    if (!standsOutSince)
        standsOutSince = now;
    if (now - *standsOutSince < hostsPatience)
        return;
    standsOutSince.reset();
    const auto* host = getParentComponent();
    takeFitted(fittedInto(host->getWidth(), host->getHeight(), percentInUse / 100.0));
}

void Window::parentSizeChanged() {
    const auto* host = getParentComponent();
    if (!isHosted(owner) || host == nullptr || scaleTaken >= percentInUse / 100.0 - leastGain)
        return;
    const FittedSize size = fittedInto(host->getWidth(), host->getHeight(), percentInUse / 100.0);
    if (size.scale > scaleTaken + leastGain)
        takeFitted(size);
}

void Window::takeFitted(const FittedSize& size) {
    scaleTaken = size.scale;
    setScaleFactor(static_cast<float>(size.scale));
    setSize(size.width, size.height);
}

} // namespace valveladder
