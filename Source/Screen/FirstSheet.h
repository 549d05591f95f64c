#pragma once

#include "Screen/SegmentStaff.h"
#include "Session/SessionSetup.h"

#include <memory>
#include <optional>
#include <vector>

namespace valveladder {

/// The sheet of the first steps: what will happen, and under it the first rung as it will stand there, one
/// breath a line, as many of them as there is room for; one alone on two lines, where one would be too small.
class FirstSheet final : public juce::Component {
public:
    FirstSheet();

    /// `spelling`: the player's own choice of names, if they made one.
    void show(const std::shared_ptr<const SessionSetup>& wanted, std::optional<Spelling> spelling);
    /// For whoever asks what it shows.
    [[nodiscard]] int breathsShown() const { return static_cast<int>(breaths.size()); }
    [[nodiscard]] float staffSpace() const {
        return breaths.empty() ? 0.0F : breaths[0].staves[0].place.space;
    }

    void paint(juce::Graphics& g) override;
    void resized() override { layOut(); }
    void lookAndFeelChanged() override { repaint(); }

private:
    struct Breath {
        juce::String name; ///< of the segment
        juce::Rectangle<float> nameArea;
        std::vector<SegmentStaff> staves; ///< one at least
    };
    void layOut();
    /// The first `count` breaths from the top of `area` on, each on so many lines.
    void addBreaths(juce::Rectangle<float> area, int count, int lines);
    [[nodiscard]] juce::Rectangle<float> inside() const;
    [[nodiscard]] juce::Font headFont() const;
    [[nodiscard]] juce::Font wordsFont() const;
    [[nodiscard]] std::optional<SegmentStaff> staffOf(int segment, const SegmentLine& line,
                                                      juce::Rectangle<float> room, float largestSpace) const;

    /// px a staff space that the first `count` breaths fit in, each of their lines in a room of that size.
    [[nodiscard]] float sharedSpace(int count, int lines, juce::Rectangle<float> room) const;

    std::shared_ptr<const SessionSetup> setup;
    std::optional<Spelling> chosenSpelling;
    std::vector<Breath> breaths;
};

} // namespace valveladder
