#pragma once

#include "Ladder/PitchNames.h"
#include "Screen/SaidComponent.h"
#include "Screen/SegmentStaff.h"
#include "Screen/SignLegend.h"
#include "View/LogReader.h"
#include "View/ResultModel.h"

#include <functional>
#include <optional>

namespace valveladder {

/// A segment of a take on the sheet: every note coloured and signed by what happened to it, its fingering
/// under it, then what was told of it beside that, a breath above it, the slowest change marked.
class ResultStaff final : public SaidComponent, public juce::TooltipClient {
public:
    ResultStaff();

    void show(std::shared_ptr<const LoadedTake> shownTake, const CellPlace& shownCell);
    void setNames(const PitchNames& wanted);
    /// Marks the note that is being played; -1 = none.
    void showSounding(int noteIndex);
    /// A note was clicked, or chosen by the arrow keys and Return.
    std::function<void(int noteIndex)> onNote;
    /// Another note is the chosen one, or none.
    std::function<void()> onChosen;
    /// The note that the player chose; nullptr before they have chosen one of this segment.
    [[nodiscard]] const NoteModel* picked() const;
    /// Index of the note that is chosen; -1 while no notes are shown.
    [[nodiscard]] int chosenNote() const;
    /// What stands of a fingering on one line, and where.
    struct Fingering {
        juce::String text;
        juce::Rectangle<float> area;
        bool fault = false;
    };
    /// Note after note, each from above.
    [[nodiscard]] std::vector<Fingering> fingerings() const;

    void paint(juce::Graphics& g) override;
    void resized() override { layOutStaff(); }
    bool keyPressed(const juce::KeyPress& key) override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseMove(const juce::MouseEvent& event) override;
    void mouseExit(const juce::MouseEvent& event) override;
    /// Of the note under the pointer, as it is shown now.
    juce::String getTooltip() override;
    void focusGained(FocusChangeType) override { repaint(); }
    void focusLost(FocusChangeType) override { repaint(); }
    void lookAndFeelChanged() override { layOutStaff(); }

private:
    // Heights of what stands round the staff, px.
    static constexpr float edge = 16.0F;
    static constexpr float breathRow = 20.0F;
    static constexpr float signRow = 26.0F;
    static constexpr float fingeringRow = 22.0F; ///< names side by side
    static constexpr float figureRow = 16.0F;    ///< of one figure, where they stand one under another
    static constexpr float asideRow = 24.0F;
    static constexpr float slowestRow = 24.0F;

    struct Shown {
        NoteModel note;
        NoteSign sign;
        std::vector<NoteAside> asides;
        float x = 0.0F;    ///< of its head's middle
        float into = 0.0F; ///< of the middle between it and the note before
    };
    void layOutStaff();
    /// Staff and notes, with the room that the row of fingerings takes by now.
    void placeNotes();
    [[nodiscard]] bool fingeringsTouch() const;
    [[nodiscard]] float fingeringHeight() const;
    void showNotes();
    void showLegend();
    void pick(int note);
    void say();
    [[nodiscard]] int noteAt(float x) const; ///< into notes; -1 = none is near
    [[nodiscard]] bool has(NoteAside aside) const;
    [[nodiscard]] float asideHeight() const;
    [[nodiscard]] juce::Rectangle<float> staffArea() const;
    [[nodiscard]] juce::String where() const;
    [[nodiscard]] juce::Rectangle<float> footArea() const;
    [[nodiscard]] juce::Rectangle<float> legendArea() const;
    [[nodiscard]] float room() const; ///< px from head to head
    void paintHere(juce::Graphics& g) const;
    void paintSign(juce::Graphics& g, const Shown& shown, float y) const;
    void paintFingerings(juce::Graphics& g) const;
    void paintAsides(juce::Graphics& g, const Shown& shown, float y) const;
    void paintLateFingers(juce::Graphics& g, const Shown& shown, float y) const;
    void paintSlowest(juce::Graphics& g, float y) const;
    void paintFoot(juce::Graphics& g) const;

    std::optional<float> pointed; ///< where the pointer is, x
    std::shared_ptr<const LoadedTake> take;
    CellPlace cell;
    PitchNames names;
    std::optional<SegmentStaff> staff;
    std::vector<Shown> notes;
    SignLegend legend;
    std::optional<int> slowest; ///< index of the note that the slowest change leads into
    int chosen = 0;             ///< into notes
    bool isPicked = false;      ///< by the player
    int figureLines = 0;        ///< of the longest fingering, one figure under another; 0: names side by side
    bool legendShown = true;    ///< else there is no room: the notes tell themselves when they are pointed at
    int sounding = -1;
};

} // namespace valveladder
