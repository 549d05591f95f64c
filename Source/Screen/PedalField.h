#pragma once

#include "Session/SessionSetup.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>

namespace valveladder {

/// A pedal to be learned: shows which one it is; pressed, it waits for the next key or pedal; Forget takes it
/// away.
class PedalField final : public juce::Component {
public:
    PedalField();

    void show(const Pedal& pedal);
    [[nodiscard]] const Pedal& pedal() const { return current; }
    [[nodiscard]] bool learning() const { return learn.getToggleState(); }
    void stopLearning();
    /// The key or pedal that was pressed while learning.
    void heard(bool isController, int number);

    std::function<void()> onChange;
    std::function<void()> onLearn; ///< it waits from now on

    void setPurpose(const juce::String& purpose); ///< for screen readers
    void resized() override;

private:
    void write();

    Pedal current;
    juce::String does;
    juce::TextButton learn, forget;
};

} // namespace valveladder
