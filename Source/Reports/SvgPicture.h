#pragma once

#include <string>

namespace valveladder {

/// Okabe & Ito, "Color Universal Design" (2008): told apart with every common kind of colour vision.
namespace palette {
inline constexpr const char* blue = "#0072B2";
inline constexpr const char* vermilion = "#D55E00";
inline constexpr const char* green = "#009E73";
inline constexpr const char* purple = "#CC79A7";
inline constexpr const char* orange = "#E69F00";
inline constexpr const char* sky = "#56B4E9";
inline constexpr const char* ink = "#1A1A1A";
inline constexpr const char* rule = "#B0B0B0";
} // namespace palette

/// A picture of marks and words as a Scalable Vector Graphic (SVG 1.1), whole in itself. Lengths in its own
/// units, y downwards. A mark's `told` is what a pointer or a screen reader is told of it; empty = nothing.
class SvgPicture {
public:
    static constexpr double dotRadius = 5.0;
    static constexpr const char* bold = "bold";

    void line(double x1, double y1, double x2, double y2, const char* colour, double width = 1.0);
    /// A filled rectangle; x, y is its upper left corner.
    void bar(double x, double y, double width, double height, const char* colour, const std::string& told);

    // Marks around x, y.
    void dot(double x, double y, const char* colour, const std::string& told, double radius = dotRadius);
    void ring(double x, double y, const char* colour, const std::string& told);
    void cross(double x, double y, const char* colour, const std::string& told);
    void plus(double x, double y, const char* colour, const std::string& told);
    void box(double x, double y, const char* colour, const std::string& told);
    void tick(double x, double y, const char* colour, const std::string& told);
    void wedge(double x, double y, const char* colour, const std::string& told);

    /// `anchor`: "start", "middle" or "end".
    void text(double x, double y, double size, const char* anchor, const std::string& words,
              const char* weight = "normal");

    /// The finished document, on white; `title` names it.
    [[nodiscard]] std::string document(double width, double height, const std::string& title) const;

private:
    void stroke(const std::string& path, const char* colour, const std::string& told);

    std::string marks;
};

} // namespace valveladder
