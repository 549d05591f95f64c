#pragma once

#include "Session/SessionView.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <memory>

namespace valveladder {

/// What there is to say: log trouble first, then warnings of the drill, then messages, newest first.
class MessagesPanel final : public juce::Component {
public:
    MessagesPanel();

    void show(const std::shared_ptr<const SessionView>& view, const juce::String& own);
    void resized() override;

private:
    juce::TextEditor text;
    juce::String shown;
};

} // namespace valveladder
