#include "Paper/Fonts.h"

#include <array>
#include <cairo-ft.h>
#include <span>
#include <stdexcept>

namespace valveladder {

namespace embedded {
extern const std::span<const std::uint8_t> Bravuraotf;
extern const std::span<const std::uint8_t> InterRegularotf;
extern const std::span<const std::uint8_t> InterSemiBoldotf;
} // namespace embedded

namespace {

struct LoadedFont {
    FT_Face face = nullptr;
    cairo_font_face_t* cairo = nullptr;
};

/// The fonts lie in the program, so that what fails here is the program, not its input.
LoadedFont load(std::span<const std::uint8_t> bytes) {
    static const FT_Library library = [] {
        FT_Library made = nullptr;
        if (FT_Init_FreeType(&made) != 0)
            throw std::runtime_error("FreeType does not start");
        return made;
    }();
    LoadedFont font;
    if (FT_New_Memory_Face(library, bytes.data(), static_cast<FT_Long>(bytes.size()), 0, &font.face) != 0)
        throw std::runtime_error("a font in the program is broken");
    font.cairo = cairo_ft_font_face_create_for_ft_face(font.face, FT_LOAD_NO_HINTING);
    return font;
}

const LoadedFont& loaded(PaperFont font) {
    static const std::array<LoadedFont, 3> fonts{
        load(embedded::InterRegularotf), load(embedded::InterSemiBoldotf), load(embedded::Bravuraotf)};
    return fonts[static_cast<std::size_t>(font)];
}

} // namespace

cairo_font_face_t* paperFont(PaperFont font) {
    return loaded(font).cairo;
}

unsigned long glyphIndex(PaperFont font, char32_t character) {
    return FT_Get_Char_Index(loaded(font).face, static_cast<FT_ULong>(character));
}

} // namespace valveladder
