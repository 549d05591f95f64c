#pragma once

#include "Console/Options.h"
#include "Records/EnumNames.h"

namespace valveladder::console {

/// The values of an enumeration by the names that files have for them.
template <typename E>
[[nodiscard]] Choices<E> named() {
    Choices<E> choices;
    for (const auto& [value, name] : EnumNames<E>::table)
        choices.emplace_back(name.data(), value);
    return choices;
}

} // namespace valveladder::console
