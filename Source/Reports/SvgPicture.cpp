#include "Reports/SvgPicture.h"

#include "Base/XmlText.h"

#include <algorithm>
#include <fmt/format.h>

namespace valveladder {

namespace {

std::string titleOf(const std::string& told) {
    return told.empty() ? std::string() : "<title>" + xmlText(told) + "</title>";
}

} // namespace

void SvgPicture::line(double x1, double y1, double x2, double y2, std::uint32_t colour, double width) {
    marks += fmt::format(
        R"(<line x1="{:.1f}" y1="{:.1f}" x2="{:.1f}" y2="{:.1f}" stroke="#{:06X}" stroke-width="{:g}"/>)"
        "\n",
        x1, y1, x2, y2, colour, width);
}

void SvgPicture::bar(double x, double y, double width, double height, std::uint32_t colour,
                     const std::string& told) {
    marks +=
        fmt::format(R"(<rect x="{:.1f}" y="{:.1f}" width="{:.1f}" height="{:.1f}" fill="#{:06X}">{}</rect>)"
                    "\n",
                    x, y, width, height, colour, titleOf(told));
}

void SvgPicture::dot(double x, double y, std::uint32_t colour, const std::string& told, double radius) {
    marks += fmt::format(R"(<circle cx="{:.1f}" cy="{:.1f}" r="{:g}" fill="#{:06X}">{}</circle>)"
                         "\n",
                         x, y, radius, colour, titleOf(told));
}

void SvgPicture::wedge(double x, double y, std::uint32_t colour, const std::string& told) {
    marks += fmt::format(R"(<path d="M{:.1f} {:.1f}l4 7h-8z" fill="#{:06X}">{}</path>)"
                         "\n",
                         x, y - 4.0, colour, titleOf(told));
}

void SvgPicture::sign(Sign sign, double x, double y, double size, std::uint32_t colour,
                      const std::string& told) {
    const SignShape shape = shapeOf(sign);
    const std::string drawn =
        shape.lineWidth > 0.0
            ? fmt::format(R"(fill="none" stroke="#{:06X}" stroke-width="{:g}")", colour, shape.lineWidth)
            : fmt::format(R"(fill="#{:06X}" fill-rule="evenodd")", colour);
    marks += fmt::format(R"svg(<path transform="translate({:.1f} {:.1f}) scale({:g})" d="{}" {}>{}</path>)svg"
                         "\n",
                         x - size / 2.0, y - size / 2.0, size, shape.path, drawn, titleOf(told));
}

void SvgPicture::capsule(double x, double y, double width, double height, std::uint32_t colour,
                         const std::string& words, const std::string& told) {
    constexpr double textSize = 12.0;
    constexpr double toBaseline = 4.0; // half a capital's height
    const double radius = std::min(width, height) / 2.0;
    const std::string end = fmt::format("a{0:g} {0:g} 0 0 1 ", radius);
    const double across = width - 2.0 * radius, down = height - 2.0 * radius;
    marks +=
        fmt::format(R"(<path d="M{0:.1f} {1:.1f}h{2:.1f}{4}{5:g} {5:g}v{3:.1f}{4}-{5:g} {5:g}h-{2:.1f}{4})"
                    R"(-{5:g} -{5:g}v-{3:.1f}{4}{5:g} -{5:g}z" fill="#{6:06X}">{7}</path>)"
                    "\n",
                    x - across / 2.0, y - height / 2.0, across, down, end, radius, colour, titleOf(told));
    text(x, y + toBaseline, textSize, "middle", words, bold, paper);
}

void SvgPicture::text(double x, double y, double size, const char* anchor, const std::string& words,
                      const char* weight, std::uint32_t colour) {
    marks += fmt::format(
        R"(<text x="{:.1f}" y="{:.1f}" font-size="{:g}" text-anchor="{}" font-weight="{}" fill="#{:06X}">{}</text>)"
        "\n",
        x, y, size, anchor, weight, colour, xmlText(words));
}

double SvgPicture::textWidth(const std::string& words, double size) {
    constexpr double widthOfLetter = 0.58; // of the size; Inter's figures are 0.62, its small letters less
    return widthOfLetter * size * static_cast<double>(words.size());
}

std::string SvgPicture::document(double width, double height, const std::string& title) const {
    return fmt::format(
               R"(<svg xmlns="http://www.w3.org/2000/svg" width="{0:.0f}" height="{1:.0f}" viewBox="0 0 {0:.0f} {1:.0f}" role="img" aria-label="{2}" font-family="Inter, sans-serif">)"
               "\n"
               R"(<rect width="100%" height="100%" fill="#{3:06X}"/>)"
               "\n",
               width, height, xmlText(title), paper) +
           marks + "</svg>\n";
}

} // namespace valveladder
