#pragma once

namespace valveladder {

/// The places of the window, of which it shows one.
enum class WindowPlace { rung, landing, stair, setUp, part, first };

} // namespace valveladder
