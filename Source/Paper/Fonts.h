#pragma once

#include <cairo.h>
#include <cstdint>

namespace valveladder {

enum class PaperFont { plain, bold, music };

/// The font of the program's own (see Resources/fonts); valid for the program's life.
[[nodiscard]] cairo_font_face_t* paperFont(PaperFont font);

/// The place of a character in a font, as cairo wants it; 0 where the font has none.
[[nodiscard]] unsigned long glyphIndex(PaperFont font, char32_t character);

} // namespace valveladder
