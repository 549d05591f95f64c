#pragma once

#include "Screen/SegmentStaff.h"
#include "Session/SessionSetup.h"

#include <memory>
#include <optional>
#include <vector>

namespace valveladder {

/// The sheet of the first steps: what will happen, and under it the first rung as it will stand there, one
/// breath a line, as many of them as there is room for.
class FirstSheet final : public juce::Component {
public:
    FirstSheet();

    /// `spelling`: the player's own choice of names, if they made one.
    void show(const std::shared_ptr<const SessionSetup>& wanted, std::optional<Spelling> spelling);
    /// Lines of music on it, for whoever asks what it shows.
    [[nodiscard]] int breathsShown() const { return static_cast<int>(breaths.size()); }

    void paint(juce::Graphics& g) override;
    void resized() override { layOut(); }
    void lookAndFeelChanged() override { repaint(); }

private:
    struct Breath {
        juce::String name; ///< of the segment
        juce::Rectangle<float> nameArea;
        SegmentStaff staff;
    };
    void layOut();
    [[nodiscard]] juce::Rectangle<float> inside() const;
    [[nodiscard]] juce::Font headFont() const;
    [[nodiscard]] juce::Font wordsFont() const;
    [[nodiscard]] std::optional<SegmentStaff> staffOf(int segment, juce::Rectangle<float> room,
                                                      float largestSpace) const;

    /// px a staff space that the first `count` breaths fit in, each in a room of that size.
    [[nodiscard]] float sharedSpace(int count, juce::Rectangle<float> room) const;

    std::shared_ptr<const SessionSetup> setup;
    std::optional<Spelling> chosenSpelling;
    std::vector<Breath> breaths;
};

} // namespace valveladder
