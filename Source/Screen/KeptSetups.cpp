#include "Screen/KeptSetups.h"

#include "Base/Path.h"
#include "Screen/Documents.h"
#include "View/Words.h"

namespace valveladder {

KeptSetups::KeptSetups(Processor& plugin, SetupPlace& setup)
    : owner(plugin), place(setup), shelf(shelfFolder()) {
    place.onKeep = [this](const std::string& name) { keep(name); };
    place.onLoad = [this](const std::string& name) { open(shelf.text(name), name); };
    place.onToFile = [this] { chooseFile(true); };
    place.onFromFile = [this] { chooseFile(false); };
    place.showShelf(shelf.names());
}

std::string KeptSetups::text() const {
    return toStateText({owner.config(), owner.parameterSet().values()});
}

void KeptSetups::keep(const std::string& name) {
    if (const auto kept = shelf.keep(name, text()); !kept)
        onProblem(kept.problem());
    place.showShelf(shelf.names());
}

void KeptSetups::open(const Result<std::string>& kept, const std::string& where) {
    if (!kept)
        return onProblem(kept.problem());
    const auto state = stateFromText(kept.value());
    if (!state)
        return onProblem(inFile(state.problem(), where));
    onOpened(state.value());
}

void KeptSetups::read(const juce::File& file) {
    const std::string path = file.getFullPathName().toStdString();
    open(Shelf::readFile(pathOf(path)), path);
}

void KeptSetups::write(const juce::File& file) {
    const auto target = file.withFileExtension(Shelf::extension).getFullPathName().toStdString();
    if (const auto written = Shelf::writeFile(pathOf(target), text()); !written)
        onProblem(written.problem());
}

void KeptSetups::chooseFile(bool toWrite) {
    const auto folder = documentsFolder();
    chooser = std::make_unique<juce::FileChooser>(words::setUp, folder, juce::String("*") + Shelf::extension);
    const int wanted =
        toWrite ? juce::FileBrowserComponent::saveMode | juce::FileBrowserComponent::warnAboutOverwriting
                : juce::FileBrowserComponent::openMode | juce::FileBrowserComponent::canSelectFiles;
    chooser->launchAsync(wanted, [this, toWrite](const juce::FileChooser& chosen) {
        const juce::File file = chosen.getResult();
        if (file == juce::File())
            return;
        if (toWrite)
            write(file);
        else
            read(file);
    });
}

} // namespace valveladder
