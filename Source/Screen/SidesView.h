#pragma once

#include "Screen/NoteGraph.h"
#include "Screen/SideModel.h"
#include "Screen/TextColumn.h"

namespace valveladder {

/// Two takes or days side by side: the same notes, the same axes; the first filled, the second open.
class SidesView final : public juce::Component {
public:
    SidesView();

    /// What may be chosen; see sideChoices().
    void show(const std::vector<SideChoice>& sides);
    void setSpelling(Spelling spelling);
    /// Takes that are needed for what is chosen.
    [[nodiscard]] std::vector<std::string> wanted() const;
    /// Gives a loaded take; to be called for each of wanted() until all are there.
    void give(const std::shared_ptr<const LoadedTake>& take, const std::string& id);
    /// For pictures and tests: choose by position in the lists.
    void choose(int first, int second);

    void paint(juce::Graphics& g) override;
    void resized() override;

private:
    [[nodiscard]] const SideChoice* choice(const juce::ComboBox& box) const;
    [[nodiscard]] LoadedTakes loadedFor(const SideChoice* side) const;
    void chosen();
    void draw();

    std::vector<SideChoice> choices;
    std::map<std::string, std::shared_ptr<const LoadedTake>> loaded;
    juce::ComboBox first, second, rung;
    juce::Label firstLabel, secondLabel, rungLabel;
    NoteGraph deviations{NoteMeasure::deviation};
    NoteGraph changeovers{NoteMeasure::changeover};
    NoteGraph intonation{NoteMeasure::intonation};
    TextColumn difference;
};

} // namespace valveladder
