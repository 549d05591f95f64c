#pragma once

#include "Screen/ChoiceBox.h"
#include "Screen/NoteGraphs.h"
#include "Screen/PlayStrip.h"
#include "Screen/TextColumn.h"
#include "View/SideModel.h"

#include <optional>
#include <utility>

namespace valveladder {

/// Two takes or days side by side: the same notes, the same axes; the first filled, the second open.
class SidesView final : public juce::Component {
public:
    SidesView();

    /// What may be chosen; see sideChoices().
    void show(const std::vector<SideChoice>& sides);
    void setNames(const PitchNames& wanted);
    void showSounding(int noteIndex);
    /// Takes that are needed for what is chosen.
    [[nodiscard]] std::vector<std::string> wanted() const;
    /// Gives a loaded take; to be called for each of wanted() until all are there.
    void give(const std::shared_ptr<const LoadedTake>& take, const std::string& id);
    /// The take has changed in the log: it is wanted again.
    void forget(const std::string& id) { loaded.erase(id); }
    /// One take of each side, where both are loaded: the side's first with kept sound, else its first.
    [[nodiscard]] std::optional<
        std::pair<std::shared_ptr<const LoadedTake>, std::shared_ptr<const LoadedTake>>>
    pair() const;
    [[nodiscard]] PlayStrip& sound() { return strip; }
    /// Both takes are wanted in turn from a note.
    std::function<void(int noteIndex)> onPlay;
    /// For pictures and tests: choose by position in the lists.
    void choose(int first, int second);
    void chooseRung(int index);

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    [[nodiscard]] const SideChoice* choice(const juce::ComboBox& box) const;
    [[nodiscard]] LoadedTakes loadedFor(const SideChoice* side) const;
    void chosen();
    void draw();

    std::vector<SideChoice> choices;
    std::map<std::string, std::shared_ptr<const LoadedTake>> loaded;
    ChoiceBox first, second, rung;
    juce::Label firstLabel, secondLabel, rungLabel;
    NoteGraphs graphs;
    TextColumn difference;
    PlayStrip strip;
    PitchNames names;
};

} // namespace valveladder
