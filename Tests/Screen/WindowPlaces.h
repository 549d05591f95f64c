#pragma once

#include "Screen/Window.h"

#include <array>
#include <utility>

namespace valveladder {

/// Every place of the window, for tests that look at all of them.
inline constexpr std::array<std::pair<Window::Place, const char*>, 6> places{
    {{Window::Place::first, "first steps"},
     {Window::Place::rung, "play"},
     {Window::Place::landing, "take"},
     {Window::Place::stair, "weeks"},
     {Window::Place::part, "piece"},
     {Window::Place::setUp, "set-up"}}};

} // namespace valveladder
