#pragma once

#include "Engraving/SheetPages.h"

#include <cairo.h>

namespace valveladder {

/// Draws a page, `unit` cairo units a staff space.
void paintPage(cairo_t* on, const PrintedPage& page, double unit);

} // namespace valveladder
