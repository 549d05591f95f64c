#include "Paper/SheetPrinter.h"

#include "Base/Version.h"
#include "Base/XmlText.h"
#include "Paper/PagePainter.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <memory>
#include <string_view>

namespace valveladder {

namespace {

constexpr double pointsPerMm = 72.0 / 25.4;
constexpr double unit = paperSpaceMm * pointsPerMm; ///< points a staff space

cairo_status_t append(void* text, const unsigned char* bytes, unsigned int length) {
    static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), length);
    return CAIRO_STATUS_SUCCESS;
}

struct Destroy {
    void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
    void operator()(cairo_t* on) const { cairo_destroy(on); }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroy>;
using Context = std::unique_ptr<cairo_t, Destroy>;

/// Closes the surface, so that everything is written, and says what went wrong.
Result<Done> finished(const Surface& surface, Context context) {
    const cairo_status_t drawn = cairo_status(context.get());
    context.reset();
    cairo_surface_finish(surface.get());
    const cairo_status_t status = drawn != CAIRO_STATUS_SUCCESS ? drawn : cairo_surface_status(surface.get());
    if (status != CAIRO_STATUS_SUCCESS)
        return Problem{std::string("the page could not be drawn: ") + cairo_status_to_string(status),
                       "the printed sheet", "free some memory, or write MusicXML instead"};
    return Done{};
}

/// Right inside the root element, where it names the picture for screen readers.
void insertTitle(std::string& svg, const std::string& title) {
    const std::size_t root = svg.find("<svg");
    const std::size_t end = root == std::string::npos ? root : svg.find('>', root);
    if (end != std::string::npos)
        svg.insert(end + 1, "\n<title>" + xmlText(title) + "</title>");
}

/// cairo numbers surfaces over the program's life: without that, equal pages are equal files.
void nameSurface(std::string& svg) {
    constexpr std::string_view numbered = "<g id=\"surface";
    const std::size_t at = svg.find(numbered);
    const std::size_t end = at == std::string::npos ? at : svg.find('>', at);
    if (end != std::string::npos)
        svg.replace(at, end - at, "<g id=\"page\"");
}

} // namespace

Result<std::string> svgPage(const PrintedPage& page, const Paper& paper, const std::string& title) {
    std::string text;
    const Surface surface(cairo_svg_surface_create_for_stream(append, &text, paper.width * pointsPerMm,
                                                              paper.height * pointsPerMm));
    Context context(cairo_create(surface.get()));
    cairo_set_source_rgb(context.get(), 1.0, 1.0, 1.0);
    cairo_paint(context.get());
    paintPage(context.get(), page, unit);
    const Result<Done> done = finished(surface, std::move(context));
    if (!done)
        return done.problem();
    insertTitle(text, title);
    nameSurface(text);
    return text;
}

Result<std::string> pdfPages(std::span<const PrintedPage> pages, const Paper& paper,
                             const std::string& title) {
    std::string text;
    const Surface surface(cairo_pdf_surface_create_for_stream(append, &text, paper.width * pointsPerMm,
                                                              paper.height * pointsPerMm));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR,
                                   ("Valve Ladder " + std::string(programVersion())).c_str());
    // Without a date of its own the file would differ each time it is written.
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, nullptr);
    Context context(cairo_create(surface.get()));
    for (const PrintedPage& page : pages) {
        paintPage(context.get(), page, unit);
        cairo_show_page(context.get());
    }
    const Result<Done> done = finished(surface, std::move(context));
    return done ? Result<std::string>(std::move(text)) : Result<std::string>(done.problem());
}

} // namespace valveladder
