#pragma once

#include "Findings/Evidence.h"

#include <string>
#include <vector>

namespace valveladder {

/// Something that may be what makes changes slow, late, uneven or wrong.
enum class SuspectKind {
    press,       ///< a finger pressing
    release,     ///< a finger releasing
    change,      ///< one change alone
    fourthValve, ///< every change in which the fourth valve moves, as against 1-3 and its kin
    alternate    ///< changes into or out of an alternate other than by the fourth valve, e.g. 3 for 1-2
};

struct Suspect {
    SuspectKind kind = SuspectKind::press;
    int finger = 1;        ///< 1..4, for press and release; else 1
    Change change;         ///< for change
    Combination alternate; ///< for alternate
    Combination usual;     ///< what it stands for

    /// One change alone: the same suspect wherever it is made.
    [[nodiscard]] static Suspect ofChange(const Change& change) {
        return {SuspectKind::change, 1, change, {}, {}};
    }
    /// One finger, pressing or releasing.
    [[nodiscard]] bool isFinger() const { return kind == SuspectKind::press || kind == SuspectKind::release; }
    [[nodiscard]] bool involves(const ChangeEvidence& evidence) const;
    /// Does this finger or change take part in `change`?
    [[nodiscard]] bool concerns(const Change& other) const;

    auto operator<=>(const Suspect&) const = default;
};

/// Every suspect that at least one piece of evidence involves and at least one does not, in a fixed order:
/// fingers pressing, fingers releasing, fourth valve, alternates, changes.
[[nodiscard]] std::vector<Suspect> suspectsIn(const std::vector<ChangeEvidence>& kinds);

} // namespace valveladder
