#include "Screen/WindowSize.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr int step = 25;     ///< per cent
constexpr int titleBar = 64; ///< px that frame and panels may take of a display's height beside us

} // namespace

WindowSize windowSizeFor(int displayWidth, int displayHeight, int wantedPercent) {
    const int height = displayHeight - titleBar;
    WindowSize size;
    size.scalePercent = wantedPercent;
    while (size.scalePercent > 100 && (WindowSize::leastWidth * size.scalePercent > displayWidth * 100 ||
                                       WindowSize::leastHeight * size.scalePercent > height * 100))
        size.scalePercent = std::max(100, size.scalePercent - step);
    size.mostWidth = std::max(WindowSize::leastWidth, displayWidth * 100 / size.scalePercent);
    size.mostHeight = std::max(WindowSize::leastHeight, height * 100 / size.scalePercent);
    size.width = std::min(WindowSize::usualWidth, size.mostWidth);
    size.height = std::min(WindowSize::usualHeight, size.mostHeight);
    return size;
}

FittedSize fittedInto(int givenWidth, int givenHeight, double wantedScale) {
    const double most = std::min(static_cast<double>(givenWidth) / WindowSize::leastWidth,
                                 static_cast<double>(givenHeight) / WindowSize::leastHeight);
    FittedSize size;
    size.scale = std::min(wantedScale, most);
    size.width = std::max(WindowSize::leastWidth, static_cast<int>(givenWidth / size.scale));
    size.height = std::max(WindowSize::leastHeight, static_cast<int>(givenHeight / size.scale));
    return size;
}

} // namespace valveladder
