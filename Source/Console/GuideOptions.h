#pragma once

#include "Console/Tool.h"
#include "Guide/GuideSettings.h"

#include <optional>

namespace valveladder::console {

/// Which parts a guide holds.
struct GuideOptions {
    bool written = false;
    bool noNotes = false;
    bool noValves = false;
    std::optional<ClickWhen> click;
    int noteChannel = 1;
    int clickChannel = 10;

    void add(CLI::App& app);
    [[nodiscard]] Result<GuideSettings> settings() const;
};

} // namespace valveladder::console
