#include "Words/ReportWords.h"

#include "Base/Sentence.h"
#include "Valves/Spelling.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <vector>

namespace valveladder {

const char* inWords(ReportKind kind) {
    switch (kind) {
    case ReportKind::wrong:
        return "a wrong note";
    case ReportKind::missed:
        return "missed";
    case ReportKind::split:
        return "split";
    case ReportKind::cracked:
        return "cracked";
    case ReportKind::breath:
        return "after a breath";
    case ReportKind::valves:
        return "with other valves";
    case ReportKind::extra:
        return "with a note beside it";
    }
    return "";
}

std::string sureness(std::optional<double> likelihood) {
    constexpr double most = 99.0;
    return likelihood ? fmt::format("{:.0f} % sure", std::min(most, std::floor(100.0 * *likelihood)))
                      : std::string();
}

std::string heardBesides(int note, const Performance& heard, const Instrument& instrument) {
    std::vector<std::string> names;
    for (const ExtraNote& extra : heard.extras)
        if (extra.nearIndex == note)
            names.push_back(writtenName(instrument, instrument.written(extra.played)));
    return joined(names) + " heard besides";
}

} // namespace valveladder
