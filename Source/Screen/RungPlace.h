#pragma once

#include "Screen/NowNext.h"
#include "Screen/PlayHeader.h"
#include "Screen/StaffView.h"

namespace valveladder {

/// The place while playing.
class RungPlace final : public juce::Component {
public:
    RungPlace();

    struct Choices {
        bool jumpy = false; ///< motion is reduced
        PitchNames names;
    };
    /// [message] Redraws only what changed.
    void show(const PlayModel& model, const Choices& choices);

    void resized() override;
    void paint(juce::Graphics& g) override;

private:
    PlayHeader header;
    StaffView staff;
    NowNext nowNext;
    bool notice = false;
};

} // namespace valveladder
