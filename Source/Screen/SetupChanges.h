#pragma once

#include "Plugin/Processor.h"
#include "Screen/SetupPlace.h"
#include "View/History.h"

#include <optional>

namespace valveladder {

/// What is practised, as the player changes it in the window, with undo.
class SetupChanges {
public:
    SetupChanges(Processor& plugin, SetupPlace& setup);

    /// What the window shows of it.
    [[nodiscard]] const SessionConfig& shown() const { return config; }
    void show(const SessionConfig& wanted);
    /// Refused, the set-up shows again what was before. Parameters that come with it, as with a kept set-up,
    /// are of the same step: undo takes both back.
    Result<Done> take(SessionConfig wanted, std::optional<ParameterValues> parameters = {});
    Result<Done> goBack(bool forward);

private:
    /// What a step changes. What the player turns by itself is no step, and stays where it is.
    struct Step {
        SessionConfig config;
        std::optional<ParameterValues> parameters; ///< where the step changes them too
    };

    /// As it is now, its parameters too if wanted.
    [[nodiscard]] Step now(bool withParameters) const;
    Result<Done> give(const Step& step);
    void showUndo();

    Processor& owner;
    SetupPlace& place;
    SessionConfig config;
    History<Step> history;
};

} // namespace valveladder
