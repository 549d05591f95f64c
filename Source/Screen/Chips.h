#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

#include <functional>
#include <memory>
#include <vector>

namespace valveladder {

/// A few things of which one is chosen, each a button, in as many lines as they need.
class Chips final : public juce::Component {
public:
    explicit Chips(const juce::String& name);

    /// `chosen` is -1 where none is.
    void offer(const std::vector<juce::String>& names, int chosen, const juce::String& tooltip);
    std::function<void(int index)> onChoice;
    [[nodiscard]] int count() const { return static_cast<int>(buttons.size()); }
    [[nodiscard]] int heightFor(int width) const;

    void resized() override;

private:
    void layOut(int width, bool place, int& height) const;

    std::vector<std::unique_ptr<juce::TextButton>> buttons;
};

} // namespace valveladder
