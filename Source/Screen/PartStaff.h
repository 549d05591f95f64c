#pragma once

#include "Engraving/SheetPages.h"
#include "View/PartReader.h"

#include <juce_gui_basics/juce_gui_basics.h>

namespace valveladder {

/// The bars of a spot, engraved, with fingerings and valve strip.
class PartStaff final : public juce::Component {
public:
    PartStaff();

    /// `spot` is an index into OpenedPart::spots, -1 = none.
    void show(std::shared_ptr<const OpenedPart> part, int spot);
    /// Notes in the picture, for whoever asks what it shows.
    [[nodiscard]] int notesShown() const;
    [[nodiscard]] float staffSpace() const { return space; } ///< px

    void paint(juce::Graphics& g) override;
    void resized() override { layOut(); }
    void lookAndFeelChanged() override { repaint(); }

private:
    void layOut();
    bool layOutLargest(const SheetContent& content);
    /// Whether it fits on one page with that many px a staff space.
    bool layOutIn(const SheetContent& content, float staffSpace);
    [[nodiscard]] bool fingeringsStandApart() const;
    [[nodiscard]] juce::Font fontOf(TextStyle style) const;
    [[nodiscard]] juce::Rectangle<float> areaOf(const SheetText& text) const;
    [[nodiscard]] juce::Rectangle<float> inkOf(const SheetText& text) const;
    [[nodiscard]] float inkBottom() const;
    [[nodiscard]] float heightForMusic() const;
    void paintSystem(juce::Graphics& g, const PlacedSystem& system) const;
    void paintText(juce::Graphics& g, const SheetText& text) const;

    std::shared_ptr<const OpenedPart> shown;
    int spotShown = -1;
    PrintedPage page;
    float space = 8.0F;   ///< px a staff space
    float drop = 0.0F;    ///< px that the page lies lower, so that it stands in the middle
    juce::String cut;     ///< that these are not all bars
    juce::String refusal; ///< why there is no picture
};

} // namespace valveladder
