// Files that the part's place reads and writes, as against what it shows.

#include "Base/FileBytes.h"
#include "Base/Path.h"
#include "Files/FileKinds.h"
#include "Files/PartSmf.h"
#include "Screen/Documents.h"
#include "Screen/PartPlace.h"
#include "Screen/Type.h"
#include "View/Words.h"
#include "Words/PartWords.h"

namespace valveladder {

namespace {

/// Spots that are written into a part: more would hide it.
constexpr std::size_t mostMarkedSpots = 10;

std::span<const Spot> markedSpots(const OpenedPart& part) {
    return std::span(part.spots).first(std::min(mostMarkedSpots, part.spots.size()));
}

} // namespace

void PartPlace::tell(const Result<Done>& result) const {
    if (!result && onProblem)
        onProblem(result.problem());
}

void PartPlace::chooseFile() {
    const auto folder = documentsFolder();
    chooser = std::make_unique<juce::FileChooser>(
        words::openPart, folder, toText(namePatterns(musicXmlEndings) + ";" + namePatterns(smfEndings)));
    chooser->launchAsync(juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles,
                         [this](const juce::FileChooser& chosen) {
                             if (chosen.getResult() != juce::File())
                                 open(pathOf(chosen.getResult().getFullPathName().toStdString()));
                         });
}

void PartPlace::chooseTarget(const juce::String& name, const juce::String& pattern,
                             std::function<void(const juce::File&)> use) {
    const auto folder = documentsFolder();
    chooser = std::make_unique<juce::FileChooser>(name, folder.getChildFile(name), pattern);
    chooser->launchAsync(juce::FileBrowserComponent::saveMode |
                             juce::FileBrowserComponent::warnAboutOverwriting,
                         [use = std::move(use)](const juce::FileChooser& chosen) {
                             if (chosen.getResult() != juce::File())
                                 use(chosen.getResult());
                         });
}

Result<Done> PartPlace::writeMarked(const juce::File& file) const {
    if (!shown || shown->problem)
        return Problem{words::noPartOpen, words::theMarkedPart, words::openOneFirst};
    const std::filesystem::path path = pathOf(file.getFullPathName().toStdString());
    if (hasSmfName(path))
        return writeFileBytes(path, writeSmf(partFile(shown->line, shown->marking, markedSpots(*shown))));
    const MusicXmlFile* score = shown->file->musicXml();
    if (score == nullptr)
        return Problem{words::noNotation, shown->file->name(), words::midiOrMusicXml};
    const auto marks = noteMarks(shown->line, shown->marking, markedSpots(*shown), shown->request.instrument);
    const auto bytes =
        score->marked(shown->part, marks, hasMxlName(path) ? MusicXmlForm::compressed : MusicXmlForm::plain);
    return bytes ? writeFileBytes(path, bytes.value()) : Result<Done>(bytes.problem());
}

void PartPlace::exportMidi(DawMidi what) {
    chooseTarget(toText(dawMidiName(what)), "*.mid", [this, what](const juce::File& file) {
        const bool named = hasSmfName(pathOf(file.getFullPathName().toStdString()));
        const auto made = onMidi(what, juce::File::getSpecialLocation(juce::File::tempDirectory));
        if (!made)
            tell(made.problem());
        else if (!made.value().moveFileTo(named ? file : file.withFileExtension("mid")))
            tell(Problem{words::fileNotWritten, file.getFullPathName().toStdString(),
                         words::otherRoomyFolder});
    });
}

void PartPlace::dragMidi(DawMidi what) {
    const auto made = onMidi(what, juce::File::getSpecialLocation(juce::File::tempDirectory));
    if (!made)
        tell(made.problem());
    else if (!juce::DragAndDropContainer::performExternalDragDropOfFiles({made.value().getFullPathName()},
                                                                         false, this))
        tell(Problem{words::noDragging, made.value().getFullPathName().toStdString(), words::pressInstead});
}

} // namespace valveladder
