#pragma once

#include "Screen/Card.h"
#include "View/Overview.h"

#include <optional>

namespace valveladder {

/// What stands in a place that shows takes while there are none to show: the log is being read, cannot be
/// read, holds takes of others alone, or none. Nothing where there are takes.
[[nodiscard]] std::optional<CardContent> whyEmpty(const Overview* overview, const juce::String& noneTitle,
                                                  const juce::String& noneWords);

} // namespace valveladder
