#include "Words/NoteSigns.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace valveladder {

NoteSign noteSign(Outcome outcome, bool split, std::optional<double> deviationMs, bool saidRight) {
    using Kind = NoteSign::Kind;
    if (outcome == Outcome::missed)
        return {Kind::missed, ""};
    if (outcome == Outcome::wrong)
        return {Kind::wrong, ""};
    if (split)
        return {Kind::split, ""};
    if (deviationMs && std::abs(*deviationMs) >= notableMs)
        return {*deviationMs > 0.0 ? Kind::late : Kind::early, fmt::format("{:+.0f}", *deviationMs)};
    return {saidRight ? Kind::saidRight : Kind::right, ""};
}

std::vector<NoteAside> noteAsides(const std::vector<ReportKind>& reports, Combination lateFingers) {
    std::vector<NoteAside> asides;
    for (const auto& [kind, aside] : {std::pair{ReportKind::breath, NoteAside::breath},
                                      {ReportKind::extra, NoteAside::extra},
                                      {ReportKind::valves, NoteAside::valves}})
        if (std::ranges::find(reports, kind) != reports.end())
            asides.push_back(aside);
    if (lateFingers != Combination())
        asides.push_back(NoteAside::lateFinger);
    return asides;
}

Sign signOf(NoteSign::Kind kind) {
    switch (kind) {
    case NoteSign::Kind::wrong:
        return Sign::cross;
    case NoteSign::Kind::missed:
        return Sign::open;
    case NoteSign::Kind::split:
        return Sign::warning;
    default:
        return Sign::tick;
    }
}

Sign signOf(NoteAside aside) {
    switch (aside) {
    case NoteAside::breath:
        return Sign::breath;
    case NoteAside::extra:
        return Sign::extraNote;
    case NoteAside::valves:
        return Sign::otherValves;
    case NoteAside::lateFinger:
        break;
    }
    return Sign::finger;
}

bool isFault(NoteSign::Kind kind) {
    return kind != NoteSign::Kind::right && kind != NoteSign::Kind::saidRight;
}

namespace words {

const char* signMeaning(NoteSign::Kind kind) {
    switch (kind) {
    case NoteSign::Kind::right:
        return "right";
    case NoteSign::Kind::saidRight:
        return "right, as you say";
    case NoteSign::Kind::early:
    case NoteSign::Kind::late:
        return "+31: late, -31: early, ms";
    case NoteSign::Kind::wrong:
        return "wrong note";
    case NoteSign::Kind::missed:
        return "missed";
    case NoteSign::Kind::split:
        return "split";
    }
    return "";
}

const char* signMeaning(NoteAside aside) {
    switch (aside) {
    case NoteAside::breath:
        return "breath";
    case NoteAside::extra:
        return "extra note";
    case NoteAside::valves:
        return "other valves";
    case NoteAside::lateFinger:
        return "finger that came late";
    }
    return "";
}

std::string signInWords(const NoteSign& sign) {
    if (sign.text.empty())
        return signMeaning(sign.kind);
    return sign.text.substr(1) + (sign.kind == NoteSign::Kind::late ? " ms late" : " ms early");
}

} // namespace words

} // namespace valveladder
