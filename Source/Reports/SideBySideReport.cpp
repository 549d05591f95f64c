#include "Reports/SideBySideReport.h"

#include "Base/Csv.h"
#include "Base/Inks.h"
#include "Reports/SvgPicture.h"
#include "Valves/Spelling.h"
#include "Words/SideWords.h"
#include "Words/TempoWords.h"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cmath>

namespace valveladder {

namespace {

constexpr NoteMeasure allMeasures[] = {NoteMeasure::deviation, NoteMeasure::changeover,
                                       NoteMeasure::intonation};

std::size_t index(NoteMeasure measure) {
    return static_cast<std::size_t>(measure);
}

const ScoreNote& noteOf(const Score& score, const SideNote& side) {
    return score.notes[static_cast<std::size_t>(side.note)];
}

nlohmann::json differenceJson(const SideDifference& difference) {
    return {{"value", difference.value}};
}

// Measures of the picture, in its own units.
constexpr double step = 12.0, left = 60.0, top = 40.0, height = 240.0;
constexpr double smallText = 10.0, lineHeight = 13.0;
constexpr std::size_t nameRows = 3; ///< of the notes that differ: neighbours' names do not touch

constexpr std::array colours{inks::brass, inks::ink, inks::blue, inks::wrong, inks::right, inks::purple};
constexpr std::size_t shapes = 3;
constexpr double markRadius = 3.0;

void mark(SvgPicture& picture, std::size_t group, double x, double y, const std::string& told = "") {
    const std::uint32_t colour = colours[group % colours.size()];
    switch (group % shapes) {
    case 0:
        return picture.dot(x, y, colour, told, markRadius);
    case 1:
        return picture.bar(x - markRadius, y - markRadius, 2.0 * markRadius, 2.0 * markRadius, colour, told);
    default:
        return picture.wedge(x, y, colour, told);
    }
}

struct Bounds {
    double low = 0.0;
    double high = 1.0;
};

Bounds boundsOf(const SideBySide& sides, std::size_t measure) {
    Bounds bounds{0.0, 0.0};
    for (const auto& note : sides.notes)
        for (const auto& group : note.values)
            if (group[measure].n > 0) {
                bounds.low = std::min(bounds.low, group[measure].value);
                bounds.high = std::max(bounds.high, group[measure].value);
            }
    if (bounds.high - bounds.low < 1.0)
        bounds.high = bounds.low + 1.0;
    return bounds;
}

/// Which mark stands for which side, in a line over the picture; gives where it ends.
double groupsLegend(SvgPicture& picture, const SideBySide& sides) {
    constexpr double markRoom = 10.0, gap = 24.0, y = 12.0;
    double x = left;
    for (std::size_t g = 0; g < sides.labels.size(); ++g) {
        const std::string words = fmt::format("{}, {} bpm", sides.labels[g], words::tempoText(sides.bpm[g]));
        mark(picture, g, x, y);
        picture.text(x + markRoom, y + 4.0, smallText, "start", words);
        x += markRoom + SvgPicture::textWidth(words, smallText) + gap;
    }
    return x;
}

/// Is the note reached by a change that differs in any group by more than chance?
bool differsBeyondChance(const SideBySide& sides, const Score& score, int note, std::size_t measure) {
    const Change into = score.changeInto(note);
    return std::ranges::any_of(sides.overall, [&](const SideOverall& overall) {
        return std::ranges::any_of(overall.changes[measure], [&](const ComparedChange& one) {
            return one.beyondChance && one.change == into;
        });
    });
}

nlohmann::json changesJson(const std::vector<ComparedChange>& changes, const Instrument& instrument) {
    auto list = nlohmann::json::array();
    for (const auto& one : changes)
        list.push_back({{"from", instrument.combinationName(one.change.from)},
                        {"to", instrument.combinationName(one.change.to)},
                        {"difference", one.difference.value},
                        {"low", one.difference.low},
                        {"high", one.difference.high},
                        {"n", one.difference.n},
                        {"p", one.p},
                        {"beyondChance", one.beyondChance}});
    return list;
}

} // namespace

std::string sideText(const SideBySide& sides, bool thumbValve) {
    std::string text;
    for (std::size_t g = 0; g < sides.labels.size(); ++g)
        text += fmt::format("{}: {} bpm\n", sides.labels[g], words::tempoText(sides.bpm[g]));
    for (std::size_t g = 1; g < sides.labels.size(); ++g) {
        text += fmt::format("{} against {}\n", sides.labels[g], sides.labels[0]);
        for (const SideLine& line : sideLines(sides.overall[g - 1], thumbValve))
            text += (line.about == SideLine::About::oneChange ? "    " : "  ") + line.text + "\n";
    }
    return text;
}

std::string sideCsv(const SideBySide& sides, const Score& score, const Instrument& instrument) {
    std::string csv = "note,written,combination,rung,segment,group,bpm,right";
    for (const auto measure : allMeasures)
        csv += fmt::format(",{0}_{1},{0}_n,{0}_difference", name(measure), unit(measure));
    csv += "\r\n";
    for (const auto& note : sides.notes) {
        const auto& expected = noteOf(score, note);
        for (std::size_t g = 0; g < sides.labels.size(); ++g) {
            csv += fmt::format("{},{},{},{},{},{},{:.6g},{}", note.note,
                               writtenName(instrument, expected.written),
                               instrument.combinationName(expected.combination), expected.rung,
                               expected.segment, csvField(sides.labels[g]), sides.bpm[g], note.right[g]);
            for (const auto measure : allMeasures) {
                const auto& value = note.values[g][index(measure)];
                csv += value.n > 0 ? fmt::format(",{:.3f},{}", value.value, value.n) : std::string(",,0");
                const auto* difference = g > 0 ? &note.differences[g - 1][index(measure)] : nullptr;
                csv += difference && difference->measured ? fmt::format(",{:.3f}", difference->value)
                                                          : std::string(",");
            }
            csv += "\r\n";
        }
    }
    return csv;
}

std::string sideJson(const SideBySide& sides, const Score& score, const Instrument& instrument) {
    nlohmann::json json;
    for (std::size_t g = 0; g < sides.labels.size(); ++g) {
        nlohmann::json group{{"label", sides.labels[g]}, {"bpm", sides.bpm[g]}};
        if (g > 0)
            for (const auto measure : allMeasures) {
                const auto& all = sides.overall[g - 1].difference[index(measure)];
                if (all.n > 0)
                    group["againstFirst"][name(measure)] = {
                        {"median", all.value},
                        {"low", all.low},
                        {"high", all.high},
                        {"n", all.n},
                        {"beyondChance", sides.overall[g - 1].beyondChance[index(measure)]},
                        {"changes", changesJson(sides.overall[g - 1].changes[index(measure)], instrument)}};
            }
        json["groups"].push_back(std::move(group));
    }
    for (const auto& note : sides.notes) {
        nlohmann::json one{{"note", note.note},
                           {"written", writtenName(instrument, noteOf(score, note).written)},
                           {"combination", instrument.combinationName(noteOf(score, note).combination)}};
        for (std::size_t g = 0; g < sides.labels.size(); ++g) {
            nlohmann::json group{{"right", note.right[g]}};
            for (const auto measure : allMeasures) {
                const auto& value = note.values[g][index(measure)];
                if (value.n > 0)
                    group[name(measure)] = {{"value", value.value}, {"n", value.n}};
                if (g > 0 && note.differences[g - 1][index(measure)].measured)
                    group[name(measure)]["difference"] =
                        differenceJson(note.differences[g - 1][index(measure)]);
            }
            one["groups"].push_back(std::move(group));
        }
        json["notes"].push_back(std::move(one));
    }
    return json.dump(1, ' ', false, nlohmann::json::error_handler_t::replace);
}

std::string sideSvg(const SideBySide& sides, const Score& score, const Instrument& instrument,
                    NoteMeasure measure) {
    const std::size_t m = index(measure);
    const Bounds bounds = boundsOf(sides, m);
    const double width = left + step * static_cast<double>(sides.notes.size() + 1);
    const auto yOf = [&](double value) {
        return top + height * (bounds.high - value) / (bounds.high - bounds.low);
    };
    SvgPicture picture;
    picture.line(left, yOf(0.0), width, yOf(0.0), inks::rule);
    std::vector<double> scale{0.0};
    for (const double value : {bounds.low, bounds.high})
        if (std::abs(yOf(value) - yOf(0.0)) >= lineHeight)
            scale.push_back(value);
    for (const double value : scale)
        picture.text(4.0, yOf(value) + 3.0, smallText, "start",
                     fmt::format("{:.0f} {}", value, unit(measure)));
    const double legendWidth = groupsLegend(picture, sides);
    std::array<double, nameRows> namedTo{}; // right end of each row's last name
    for (const auto& note : sides.notes) {
        const double x = left + step * static_cast<double>(note.note + 1);
        const std::string pitch = writtenName(instrument, noteOf(score, note).written);
        for (std::size_t g = 0; g < sides.labels.size(); ++g)
            if (note.values[g][m].n > 0)
                mark(picture, g, x, yOf(note.values[g][m].value),
                     fmt::format("{}, {}: {:+.1f} {}", pitch, sides.labels[g], note.values[g][m].value,
                                 unit(measure)));
        if (!differsBeyondChance(sides, score, note.note, m))
            continue;
        const double half = SvgPicture::textWidth(pitch, smallText) / 2.0;
        const auto row = std::ranges::min_element(namedTo);
        *row = x + half;
        picture.text(x, top + height + 20.0 + lineHeight * static_cast<double>(row - namedTo.begin()),
                     smallText, "middle", pitch);
    }
    return picture.document(std::max(width, legendWidth), top + height + 20.0 + lineHeight * nameRows,
                            fmt::format("{} note by note, {}", name(measure), unit(measure)));
}

} // namespace valveladder
