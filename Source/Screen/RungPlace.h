#pragma once

#include "Screen/LadderView.h"
#include "Screen/NowNext.h"
#include "Screen/PlayHeader.h"
#include "Screen/StaffView.h"

#include <functional>

namespace valveladder {

/// The place while playing. What it says never moves its staff.
class RungPlace final : public juce::Component {
public:
    RungPlace();

    struct Choices {
        bool jumpy = false; ///< motion is reduced
        PitchNames names;
    };
    /// The daily drill is wanted again.
    std::function<void()> onDaily;

    /// [message] Redraws only what changed.
    void show(const PlayModel& model, const Choices& choices);

    void resized() override;
    void paint(juce::Graphics& g) override;

private:
    LadderView ladder;
    juce::TextButton daily; ///< where something else is played
    PlayHeader header;
    StaffView staff;
    NowNext nowNext;
};

} // namespace valveladder
