#include "Words/CareWords.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

constexpr const char* noSource = "common practice, no source";

} // namespace

std::string withSource(const CareText& caution) {
    return fmt::format("{} ({})", caution.text, caution.source);
}

CareText inWords(CareKind kind, const CareSettings& settings) {
    switch (kind) {
    case CareKind::handCheck:
        return {"Hand check: fingers curved, tips on the caps of the valves, wrist straight, thumb loose, "
                "little finger not pulling in its hook, shoulder low. Press straight down.",
                noSource};
    case CareKind::rest:
        return {
            fmt::format("{:.0f} minutes played: put the instrument down for {:.0f} minutes. Lips and hand "
                        "need it more than the drill does.",
                        settings.restAfterMinutes, settings.restMinutes),
            "five minutes of rest in each half hour: Musician Health and Safety, Mississippi Valley State "
            "University"};
    case CareKind::firmValves:
        return {"Firm means quick and all the way, not hard. Stop if it hurts, in the hand, the wrist or the "
                "lips; what does not pass with rest belongs in a clinician's hands.",
                "stop at discomfort, see a clinician if it persists: G. Klickstein, The Musician's Way blog, "
                "July 2011"};
    case CareKind::hearing:
        break;
    }
    return {"Brass is loud in small rooms; no sound level is measured here. Rest the ears, follow local "
            "rules and hearing care.",
            "NIOSH 2015-184; Directive 2003/10/EC"};
}

std::vector<CareText> inWords(const std::vector<CareKind>& kinds, const CareSettings& settings) {
    std::vector<CareText> texts;
    for (const CareKind kind : kinds)
        texts.push_back(inWords(kind, settings));
    return texts;
}

} // namespace valveladder
