#pragma once

#include "Engraving/Beaming.h"

#include <span>

namespace valveladder {

[[nodiscard]] PlacedSlur tieBetween(const StemmedHead& from, const StemmedHead& to);

/// A slur over the heads, clear of every head and accent under it. `before`, `more`: it comes from the page
/// before, goes on to the next.
[[nodiscard]] PlacedSlur slurOver(std::span<const StemmedHead> heads, bool before, bool more);

} // namespace valveladder
