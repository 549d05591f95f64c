#include "Targets.h"

#include "Engraving/PartLayout.h"
#include "Files/MusicXml.h"
#include "Files/PartSmf.h"

#include <algorithm>

namespace valveladder {

namespace {

constexpr int mostBars = 32; // that are engraved
constexpr int mostParts = 4; // of each input, so that large scores leave time for others

Complaint badRefusal(const Problem& problem) {
    if (problem.what.empty() || problem.where.empty() || problem.remedy.empty())
        return "a refusal without place or remedy: " + problem.text();
    return std::nullopt;
}

Complaint badPart(const Part& part) {
    const int bars = static_cast<int>(part.bars.size());
    Tick last = 0;
    for (const PartNote& note : part.notes) {
        if (note.onset < last || note.length < 0)
            return "notes out of order, or of negative length";
        last = note.onset;
        if (note.bar < 0 || note.bar >= bars)
            return "a note outside all bars";
    }
    if (part.ticksPerQuarter < 1)
        return "no ticks a quarter";
    const auto byTick = [](const auto& a, const auto& b) { return a.tick < b.tick; };
    if (!std::is_sorted(part.tempos.begin(), part.tempos.end(), byTick))
        return "tempos out of order";
    return std::nullopt;
}

/// The first bars as they are engraved: every bar filled, in order, or refused with words.
Complaint badLayout(const Part& part) {
    const int bars = std::min(mostBars, static_cast<int>(part.bars.size()));
    if (bars == 0)
        return std::nullopt;
    const Result<LaidPart> laid = layOutPart(part, {}, 0, bars);
    if (!laid)
        return badRefusal(laid.problem());
    std::int64_t at = 0;
    for (const SheetBar& bar : laid.value().layout.bars)
        for (const SheetSymbol& symbol : bar.symbols) {
            if (symbol.start != at || symbol.value.length <= 0)
                return "engraved symbols with a gap, or out of order";
            at = symbol.end();
        }
    return std::nullopt;
}

/// Reads the parts that `read` yields for each choice.
template <typename Read>
Complaint badParts(std::size_t count, const Read& read) {
    for (int part = 0; part < std::min(mostParts, static_cast<int>(count)); ++part)
        for (const bool unroll : {true, false}) {
            PartChoice choice;
            choice.part = part;
            choice.unroll = unroll;
            const Result<Part> line = read(choice);
            if (const Complaint complaint = line ? badPart(line.value()) : badRefusal(line.problem()))
                return complaint;
            if (const Complaint complaint = line ? badLayout(line.value()) : std::nullopt)
                return complaint;
        }
    return std::nullopt;
}

} // namespace

Complaint fuzzMusicXml(std::span<const std::uint8_t> bytes) {
    const Result<MusicXmlFile> file = MusicXmlFile::read(bytes);
    if (!file)
        return badRefusal(file.problem());
    const std::size_t parts = file.value().parts().size();
    if (const Complaint complaint =
            badParts(parts, [&](const PartChoice& choice) { return file.value().part(choice); }))
        return complaint;
    const Result<std::vector<std::uint8_t>> written = file.value().marked(0, {}, MusicXmlForm::plain);
    if (!written)
        return badRefusal(written.problem());
    const Result<MusicXmlFile> again = MusicXmlFile::read(written.value());
    if (!again)
        return "what was read and written is refused: " + again.problem().text();
    if (again.value().marked(0, {}, MusicXmlForm::plain).value() != written.value())
        return "what was read and written is written differently";
    return std::nullopt;
}

Complaint fuzzPartSmf(std::span<const std::uint8_t> bytes) {
    const Result<SmfFile> file = readSmf(bytes);
    if (!file)
        return badRefusal(file.problem());
    return badParts(partsOf(file.value()).size(),
                    [&](const PartChoice& choice) { return partFromSmf(file.value(), choice, -2); });
}

} // namespace valveladder
