#pragma once

#include "Plugin/Processor.h"
#include "Screen/FootLine.h"
#include "Screen/LevelMeter.h"
#include "Screen/WorkStrip.h"

#include <functional>

namespace valveladder {

/// Along the foot of the window, in every place: start and stop, a take, the rung again, how loud the input
/// is, the newest message and work that lasts.
class WindowFoot final : public juce::Component {
public:
    WindowFoot(Processor& plugin, bool hosted);

    std::function<void()> onRepeat, onMessages;

    /// Whether start, mark, repeat and level stand there: the first steps have a start and a level of their
    /// own.
    void showPlaying(bool wanted);
    /// The keys that start and repeat are the window's own, and not the host's: the buttons name them.
    void nameKeys(bool ours);
    void showInput(double peak) { level.show(peak); }
    void showMessage(const juce::String& newest) { message.show(newest); }
    /// Shows it while it lasts, as the reading of the log.
    void watch(const WorkProgress& writing);
    /// Once a frame.
    void refreshWork();

    void pressClock() { clockButton.triggerClick(); }
    void pressTake() { takeButton.triggerClick(); }
    void pressRepeat() { repeatButton.triggerClick(); }

    void resized() override;
    static constexpr int height = 59;

private:
    Processor& owner;
    const bool inHost;
    juce::TextButton clockButton, takeButton, repeatButton, messagesButton;
    juce::ButtonParameterAttachment clockAttachment;
    LevelMeter level;
    FootLine message;
    WorkStrip work;
};

} // namespace valveladder
