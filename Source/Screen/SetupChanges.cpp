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

Result<Done> SetupChanges::take(SessionConfig wanted) {
    auto taken = owner.setConfig(std::move(wanted));
    if (!taken) {
        place.panel().show(config);
        return taken;
    }
    history.changed(config);
    showUndo();
    return taken;
}

Result<Done> SetupChanges::goBack(bool forward) {
    const auto wanted = forward ? history.redo(config) : history.undo(config);
    showUndo();
    return wanted ? owner.setConfig(*wanted) : Done{};
}

} // namespace valveladder
