#pragma once

#include "Base/Uuid.h"
#include "Records/TakeRecord.h"

#include <optional>

namespace valveladder::testing {

/// A take of Ann's on the trumpet with the change 2-3 to 1-3 five times, each as long; without a time it
/// could not be measured.
[[nodiscard]] inline TakeRecord fiveChangesTake(bool invented, std::optional<double> changeoverMs) {
    TakeRecord take;
    take.header.id = newUuid();
    take.header.player = "Ann";
    take.header.instrumentId = "trumpet-b-flat";
    take.header.drillName = "Slurs";
    take.header.invented = invented;
    for (int i = 0; i < 5; ++i) {
        ChangeResult change;
        change.toIndex = i + 1;
        change.change = {*Combination::parse("2-3"), *Combination::parse("1-3")};
        change.changeoverMs = changeoverMs;
        take.performance.changes.push_back(change);
        take.performance.notes.push_back({});
        take.performance.notes.back().index = i;
    }
    return take;
}

} // namespace valveladder::testing
