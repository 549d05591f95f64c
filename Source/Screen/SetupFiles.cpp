// Drills that the set-up reads from files and writes to them.

#include "Records/Json.h"
#include "Screen/Documents.h"
#include "Screen/SetupPanel.h"
#include "Screen/Type.h"
#include "View/Words.h"

namespace valveladder {

void SetupPanel::drillFileWanted(bool save) {
    const auto folder = documentsFolder();
    chooser = std::make_unique<juce::FileChooser>(save ? words::saveDrillTitle : words::openDrillField,
                                                  folder, "*.json");
    const int chooserFlags =
        save ? juce::FileBrowserComponent::saveMode | juce::FileBrowserComponent::warnAboutOverwriting
             : juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles;
    chooser->launchAsync(chooserFlags, [this, save](const juce::FileChooser& chosen) {
        const juce::File file = chosen.getResult();
        if (file == juce::File())
            return;
        if (!save)
            readDrillFile(file);
        else if (!file.replaceWithText(toText(toJson(current.drill))) && onProblem)
            onProblem({words::drillNotWritten, file.getFullPathName().toStdString(), words::otherFolder});
    });
}

void SetupPanel::readDrillFile(const juce::File& file) {
    constexpr juce::int64 maxBytes = 4 << 20;
    if (file.getSize() > maxBytes) {
        if (onProblem)
            onProblem({words::drillTooLarge, file.getFullPathName().toStdString(), words::chooseDrill});
        return;
    }
    const std::string text = file.loadFileAsString().toStdString();
    auto drill = drillFromJson(text);
    auto rules = drillRulesFromJson(text);
    if (!drill || !rules) {
        if (onProblem)
            onProblem(
                inFile(drill ? rules.problem() : drill.problem(), file.getFullPathName().toStdString()));
        return;
    }
    SessionConfig config = current;
    config.drill = drill.value();
    config.rules = rules.value().value_or(config.rules);
    if (onDrill)
        onDrill(config);
}

} // namespace valveladder
