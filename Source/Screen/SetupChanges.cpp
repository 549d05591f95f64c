#include "Screen/SetupChanges.h"

namespace valveladder {

SetupChanges::SetupChanges(Processor& plugin, SetupPlace& setup) : owner(plugin), place(setup) {
    showUndo();
}

void SetupChanges::showUndo() {
    place.showUndo(history.canUndo(), history.canRedo());
}

void SetupChanges::show(const SessionConfig& wanted) {
    config = wanted;
    place.panel().show(config);
}

SetupChanges::Step SetupChanges::now(bool withParameters) const {
    return {config, withParameters ? std::optional(owner.parameterSet().values()) : std::nullopt};
}

/// To the plugin; its parameters too, if the configuration is not refused.
Result<Done> SetupChanges::give(const Step& step) {
    auto taken = owner.setConfig(step.config);
    if (taken && step.parameters)
        owner.parameterSet().set(*step.parameters);
    return taken;
}

Result<Done> SetupChanges::take(SessionConfig wanted, std::optional<ParameterValues> parameters) {
    Step before = now(parameters.has_value());
    auto taken = give({std::move(wanted), std::move(parameters)});
    if (!taken) {
        place.panel().show(config);
        return taken;
    }
    history.changed(std::move(before));
    showUndo();
    return taken;
}

Result<Done> SetupChanges::goBack(bool forward) {
    const Step* next = history.next(forward);
    if (next == nullptr)
        return Done{};
    Step left = now(next->parameters.has_value());
    const auto wanted = forward ? history.redo(std::move(left)) : history.undo(std::move(left));
    showUndo();
    return give(*wanted);
}

} // namespace valveladder
