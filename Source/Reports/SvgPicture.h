#pragma once

#include "Base/Inks.h"
#include "Base/Signs.h"

#include <cstdint>
#include <string>

namespace valveladder {

/// A picture of marks and words as a Scalable Vector Graphic (SVG 1.1), whole in itself. Lengths in its own
/// units, y downwards; colours as in Base/Inks.h. A mark's `told` is what a pointer or a screen reader is
/// told of it; empty = nothing.
class SvgPicture {
public:
    static constexpr double dotRadius = 5.0;
    static constexpr const char* bold = "600";
    static constexpr std::uint32_t paper = 0xFFFFFF;

    void line(double x1, double y1, double x2, double y2, std::uint32_t colour, double width = 1.0);
    /// A filled rectangle; x, y is its upper left corner.
    void bar(double x, double y, double width, double height, std::uint32_t colour, const std::string& told);

    // Marks around x, y.
    void dot(double x, double y, std::uint32_t colour, const std::string& told, double radius = dotRadius);
    void wedge(double x, double y, std::uint32_t colour, const std::string& told);
    void sign(Sign sign, double x, double y, double size, std::uint32_t colour, const std::string& told);
    /// Filled, with `words` on it in the colour of the paper.
    void capsule(double x, double y, double width, double height, std::uint32_t colour,
                 const std::string& words, const std::string& told);

    /// `anchor`: "start", "middle" or "end".
    void text(double x, double y, double size, const char* anchor, const std::string& words,
              const char* weight = "normal", std::uint32_t colour = inks::ink);
    /// About: which letters the reader has is not known.
    [[nodiscard]] static double textWidth(const std::string& words, double size);

    /// The finished document, on white; `title` names it.
    [[nodiscard]] std::string document(double width, double height, const std::string& title) const;

private:
    std::string marks;
};

} // namespace valveladder
