#pragma once

#include "Screen/Card.h"
#include "Screen/ChoiceBox.h"
#include "Screen/Form.h"
#include "Screen/LadderView.h"
#include "Screen/PartList.h"
#include "Screen/PartStaff.h"
#include "Screen/SaidComponent.h"
#include "Screen/TextColumn.h"
#include "View/PartMidi.h"

#include <array>
#include <functional>

namespace valveladder {

/// A button that can also be dragged away, as a file.
class DragButton final : public juce::TextButton {
public:
    /// The button is being dragged: give the file away.
    std::function<void()> onDrag;

    void mouseDown(const juce::MouseEvent& event) override;
    void mouseDrag(const juce::MouseEvent& event) override;

private:
    bool dragged = false; ///< since the mouse went down
};

/// The place for pieces: a part comes in, its awkward spots are seen and become drills; MIDI goes out.
class PartPlace final : public juce::Component {
public:
    /// `hosted`: in a host, onto whose tracks MIDI is dragged.
    PartPlace(PartReader& partReader, bool hosted);

    /// Opens a file for a player and an instrument; the line is chosen anew.
    void open(const std::filesystem::path& file);
    /// Who plays what, as it stands in the set-up: another one is marked for anew.
    void playFor(const std::string& player, const Instrument& instrument);
    /// The log has changed: an open part is marked for anew.
    void logChanged();
    /// Takes over what the reader has finished.
    void refresh();
    /// The drill that is practised now, in the ladder at the left.
    void showDrill(const PlayModel& model, const PitchNames& names);

    /// The spot is to become the drill that is practised.
    std::function<void(const Drill&, const TempoRules& from)> onDrill;
    /// Rules that the spot's tempo plan is made from.
    std::function<TempoRules()> rules;
    std::function<void(const Problem&)> onProblem;
    /// MIDI of the drill is wanted as a file in the folder given, and its path back.
    std::function<Result<juce::File>(DawMidi, const juce::File& folder)> onMidi;

    [[nodiscard]] const OpenedPart* part() const { return shown.get(); }
    /// Loads the drill of the chosen spot.
    void drillFromSpot();
    /// Writes the marked part, as MusicXML or MIDI by the name's ending.
    [[nodiscard]] Result<Done> writeMarked(const juce::File& file) const;

    [[nodiscard]] static bool opens(const juce::String& path);

    void paint(juce::Graphics& g) override;
    void resized() override;
    void lookAndFeelChanged() override { repaint(); }

private:
    void buildChoices();
    void buildMidi();
    [[nodiscard]] const char* midiHeading() const;
    void ask();
    void choiceChanged();
    void fillParts();
    void fillVoices();
    void spotChosen();
    void chooseFile();
    void chooseTarget(const juce::String& name, const juce::String& pattern,
                      std::function<void(const juce::File&)> use);
    void exportMidi(DawMidi what);
    void dragMidi(DawMidi what);
    void tell(const Result<Done>& result) const;
    [[nodiscard]] std::vector<std::string> remarks() const;
    [[nodiscard]] juce::String title() const;               ///< of the piece
    [[nodiscard]] std::optional<CardContent> state() const; ///< why no spots are shown
    void showState();
    void layOutCard();
    void layOutMusic(juce::Rectangle<int> area, juce::Rectangle<int> beside);

    PartReader& reader;
    const bool inHost;
    PartRequest request;
    std::shared_ptr<const OpenedPart> shown;
    bool filled = false; ///< with what is opened, since the place was made
    bool filling = false;

    juce::TextButton openButton, drillButton, xmlButton, midiButton;
    std::array<DragButton, 3> dawButtons;
    LadderView ladder;
    Form choices{200};
    ChoiceBox parts, voices, chords;
    juce::ToggleButton repeats, graces;
    PartList list;
    PartStaff bars;
    TextColumn notes;
    Card card; ///< why no spots are shown
    juce::Rectangle<int> heading, dawHeading;
    std::unique_ptr<juce::FileChooser> chooser;
};

} // namespace valveladder
