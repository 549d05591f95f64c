#include "Reports/SvgPicture.h"

#include "Base/Inks.h"
#include "Base/XmlText.h"

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

void SvgPicture::ring(double x, double y, std::uint32_t colour, const std::string& told) {
    marks += fmt::format(
        R"(<circle cx="{:.1f}" cy="{:.1f}" r="{:g}" fill="none" stroke="#{:06X}" stroke-width="2">{}</circle>)"
        "\n",
        x, y, dotRadius + 3.0, colour, titleOf(told));
}

void SvgPicture::cross(double x, double y, std::uint32_t colour, const std::string& told) {
    stroke(fmt::format("M{:.1f} {:.1f}l10 10m0 -10l-10 10", x - 5.0, y - 5.0), colour, told);
}

void SvgPicture::plus(double x, double y, std::uint32_t colour, const std::string& told) {
    stroke(fmt::format("M{:.1f} {:.1f}h10m-5 -5v10", x - 5.0, y), colour, told);
}

void SvgPicture::box(double x, double y, std::uint32_t colour, const std::string& told) {
    stroke(fmt::format("M{:.1f} {:.1f}h10v10h-10z", x - 5.0, y - 5.0), colour, told);
}

void SvgPicture::tick(double x, double y, std::uint32_t colour, const std::string& told) {
    stroke(fmt::format("M{:.1f} {:.1f}l4 8l8 -16", x - 6.0, y), colour, told);
}

void SvgPicture::wedge(double x, double y, std::uint32_t colour, const std::string& told) {
    marks += fmt::format(R"(<path d="M{:.1f} {:.1f}l4 7h-8z" fill="#{:06X}">{}</path>)"
                         "\n",
                         x, y - 4.0, colour, titleOf(told));
}

void SvgPicture::text(double x, double y, double size, const char* anchor, const std::string& words,
                      const char* weight) {
    marks += fmt::format(
        R"(<text x="{:.1f}" y="{:.1f}" font-size="{:g}" text-anchor="{}" font-weight="{}" fill="#{:06X}">{}</text>)"
        "\n",
        x, y, size, anchor, weight, inks::ink, xmlText(words));
}

void SvgPicture::stroke(const std::string& path, std::uint32_t colour, const std::string& told) {
    marks += fmt::format(R"(<path d="{}" fill="none" stroke="#{:06X}" stroke-width="2.5">{}</path>)"
                         "\n",
                         path, colour, titleOf(told));
}

std::string SvgPicture::document(double width, double height, const std::string& title) const {
    return fmt::format(
               R"(<svg xmlns="http://www.w3.org/2000/svg" width="{0:.0f}" height="{1:.0f}" viewBox="0 0 {0:.0f} {1:.0f}" role="img" aria-label="{2}" font-family="Inter, sans-serif">)"
               "\n"
               R"(<rect width="100%" height="100%" fill="#FFFFFF"/>)"
               "\n",
               width, height, xmlText(title)) +
           marks + "</svg>\n";
}

} // namespace valveladder
