#pragma once

#include "Plugin/Processor.h"
#include "Screen/SetupPlace.h"
#include "View/History.h"

namespace valveladder {

/// What is practised, as the player changes it in the window, with undo.
class SetupChanges {
public:
    SetupChanges(Processor& plugin, SetupPlace& setup);

    /// What the window shows of it.
    [[nodiscard]] const SessionConfig& shown() const { return config; }
    void show(const SessionConfig& wanted);
    /// Refused, the set-up shows again what was before.
    Result<Done> take(SessionConfig wanted);
    Result<Done> goBack(bool forward);

private:
    void showUndo();

    Processor& owner;
    SetupPlace& place;
    SessionConfig config;
    History<SessionConfig> history;
};

} // namespace valveladder
