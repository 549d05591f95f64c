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

Result<Done> SetupChanges::take(SessionConfig wanted, std::optional<ParameterValues> parameters) {
    Step before = now(parameters.has_value());
    auto taken = owner.setConfig(std::move(wanted));
    if (!taken) {
        place.panel().show(config);
        return taken;
    }
    if (parameters)
        owner.parameterSet().set(*parameters);
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
    auto taken = owner.setConfig(wanted->config);
    if (taken && wanted->parameters)
        owner.parameterSet().set(*wanted->parameters);
    return taken;
}

} // namespace valveladder
