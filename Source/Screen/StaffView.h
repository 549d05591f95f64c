#pragma once

#include "Engraving/Engraving.h"
#include "Engraving/ValveStrip.h"
#include "Ladder/PitchNames.h"
#include "Screen/EngravingPainter.h"
#include "Screen/SaidComponent.h"
#include "View/PlayModel.h"

#include <juce_gui_basics/juce_gui_basics.h>

#include <optional>

namespace valveladder {

/// The segment that is played, engraved, with the valve strip under it on the same axis of time, and the
/// position moving over both. What stands still is drawn once a page; the position alone is redrawn while
/// playing.
class StaffView final : public SaidComponent {
public:
    StaffView();

    /// [message] Redraws only what changed. `jumpy`: the position goes from note to note instead of gliding.
    void show(const PlayModel& model, bool jumpy, const PitchNames& names);

    void paint(juce::Graphics& g) override;
    void resized() override;
    void lookAndFeelChanged() override { redraw(); }

private:
    /// The part that moves: lies over the rest and is redrawn where the position was and is.
    class Mover final : public juce::Component {
    public:
        explicit Mover(const StaffView& view) : staff(view) { setInterceptsMouseClicks(false, false); }
        void paint(juce::Graphics& g) override;

    private:
        const StaffView& staff;
    };
    /// What stands still.
    class Still final : public juce::Component {
    public:
        explicit Still(StaffView& view) : staff(view) { setInterceptsMouseClicks(false, false); }
        void paint(juce::Graphics& g) override;

    private:
        StaffView& staff;
    };

    struct Place {
        bool moving = false;
        double x = 0.0; ///< px
        std::size_t note = 0;
        std::optional<PlayModel::Heard> heard;
        bool operator==(const Place&) const = default;
    };

    [[nodiscard]] Spelling staffSpelling() const;
    void layOutDrill();
    void chooseSizes();
    void engravePage(std::size_t index);
    [[nodiscard]] std::size_t pageOfNote(std::size_t note) const;
    [[nodiscard]] Place placeOf(const PlayModel& model, bool jumpy) const;
    [[nodiscard]] juce::Rectangle<float> lane(int valve) const;
    [[nodiscard]] juce::Rectangle<float> holdArea(const ValveHold& hold) const;
    [[nodiscard]] juce::Rectangle<int> noteArea(std::size_t note) const;
    /// What stands still must be drawn anew.
    void redraw();
    void paintKept(juce::Graphics& g);
    void paintStill(juce::Graphics& g) const;
    void paintStrip(juce::Graphics& g) const;
    void paintMoving(juce::Graphics& g) const;
    void paintDone(juce::Graphics& g) const;
    void paintHeard(juce::Graphics& g) const;
    void repaintWhatMoved(const Place& next);

    std::shared_ptr<const SessionSetup> setup;
    std::optional<SheetLayout> layout; ///< absent where the rhythm cannot be written
    std::string refusal;
    std::vector<Page> pages;
    std::size_t pageIndex = 0;
    Engraving engraving;
    std::vector<ValveHold> holds;
    StaffPlace staffPlace;
    float stripTop = 0.0F;
    float laneHeight = 20.0F;
    double spacesWide = 60.0;
    Place place;
    PlayModel newest;
    bool newestJumpy = false;
    PitchNames newestNames;
    PitchNames saidNames;
    juce::Image kept; ///< what stands still, at keptScale; invalid = to be drawn
    float keptScale = 0.0F;

    Still still{*this};
    Mover mover{*this};
};

} // namespace valveladder
