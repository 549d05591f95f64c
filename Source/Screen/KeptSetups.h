#pragma once

#include "Plugin/Processor.h"
#include "Plugin/State.h"
#include "Screen/SetupPlace.h"
#include "View/Shelf.h"

#include <functional>
#include <memory>
#include <string>

namespace valveladder {

/// Set-ups kept by name or as files, and opened again.
class KeptSetups {
public:
    KeptSetups(Processor& plugin, SetupPlace& setup);

    std::function<void(PluginState)> onOpened;
    std::function<void(const Problem&)> onProblem;

    void read(const juce::File& file);

private:
    void keep(const std::string& name);
    /// `where` names it in what is said of it.
    void open(const Result<std::string>& kept, const std::string& where);
    void write(const juce::File& file);
    void chooseFile(bool toWrite);
    /// The set-up as it stands.
    [[nodiscard]] std::string text() const;

    Processor& owner;
    SetupPlace& place;
    Shelf shelf;
    std::unique_ptr<juce::FileChooser> chooser;
};

} // namespace valveladder
