#include "Session/SessionSetup.h"

#include "Base/RoundTripRange.h"
#include "Music/BackingCues.h"
#include "Words/BreathWords.h"
#include "Words/TellingApartWords.h"

#include <cmath>
#include <fmt/format.h>
#include <utility>
#include <variant>

namespace valveladder {

namespace {

constexpr std::size_t maxNameBytes = 200;
constexpr int highestController = 127; // MIDI 1.0

} // namespace

Result<SessionConfig> checked(SessionConfig config) {
    if (config.player.empty() || config.player.size() > maxNameBytes)
        return Problem{fmt::format("the player needs a name of 1 to {} bytes", maxNameBytes), "player",
                       "type a name"};
    if (config.drill.name.empty() || config.drill.name.size() > maxNameBytes)
        return Problem{fmt::format("the drill needs a name of 1 to {} bytes", maxNameBytes), "drill.name",
                       "type a name"};
    if (config.roundTripMs && !liveRoundTrip.holds(*config.roundTripMs))
        return Problem{liveRoundTrip.refusal(), "roundTripMs", "measure it, or leave it empty"};
    const KeepSound& keep = config.keepSound;
    if (keep.limitMb < KeepSound::minLimitMb || keep.limitMb > KeepSound::maxLimitMb)
        return Problem{fmt::format("the limit of kept sound must be {} to {} MB", KeepSound::minLimitMb,
                                   KeepSound::maxLimitMb),
                       "keepSound.limitMb", "set it within that"};
    if (auto care = checked(config.care); !care)
        return care.problem();
    for (const Pedal& pedal : {config.pedals.start, config.pedals.mark, config.pedals.repeat})
        if (pedal.note > highestMidiNote || pedal.controller > highestController)
            return Problem{"a pedal's note or controller is over 127", "pedals", "choose 0 to 127, or none"};
    if (auto rules = checked(config.rules); !rules)
        return rules.problem();
    if (auto instrument = checked(config.instrument); !instrument)
        return instrument.problem();
    if (auto drill = checked(config.drill, config.instrument); !drill)
        return drill.problem();
    return config;
}

Result<std::shared_ptr<const SessionSetup>>
makeSetup(const SessionConfig& config, const PlannedTempo& planned, const SessionSetup* before) {
    if (auto valid = checked(config); !valid)
        return valid.problem();
    auto score = buildScore(config.drill, config.instrument, planned.bpm);
    if (!score)
        return score.problem();
    auto setup = std::make_shared<SessionSetup>();
    setup->config = config;
    setup->planned = planned;
    for (const BreathWarning& warning : breathWarnings(score.value(), config.drill, planned.bpm))
        setup->warnings.push_back(inWords(warning));
    const bool sameDrill = before != nullptr && before->config.drill == config.drill &&
                           before->config.instrument == config.instrument;
    setup->leftOpen = sameDrill ? before->leftOpen : leftOpenBy(config.drill, config.instrument);
    if (before != nullptr && before->score().sameLayout(score.value()))
        setup->track = before->track;
    else
        setup->track = std::make_shared<GuideTrack>(score.value(), backingCues(score.value()));
    return std::shared_ptr<const SessionSetup>(std::move(setup));
}

SessionConfig playedOn(const Instrument& instrument, SessionConfig config) {
    Drill fresh = defaultDrill(instrument);
    config.instrument = instrument;
    config.drill.pattern = std::move(fresh.pattern);
    config.drill.fingering = std::move(fresh.fingering);
    return config;
}

SessionConfig configFor(const PracticeSession& next, SessionConfig config) {
    const TempoRules rules = rulesFor(next, config.rules);
    return insteadOfDaily(next.drill, rules, std::move(config));
}

SessionConfig insteadOfDaily(Drill drill, const TempoRules& rules, SessionConfig config) {
    if (!isAside(config))
        config.daily = DailyDrill{config.instrument.id, std::move(config.drill), config.rules};
    config.drill = std::move(drill);
    config.rules = rules;
    return config;
}

bool isAside(const SessionConfig& config) {
    return config.daily || !std::holds_alternative<LadderPattern>(config.drill.pattern);
}

SessionConfig dailyAgain(SessionConfig config) {
    const auto aside = std::exchange(config.daily, std::nullopt);
    if (aside && aside->instrumentId == config.instrument.id) {
        config.drill = aside->drill;
        config.rules = aside->rules;
    } else {
        config.drill = defaultDrill(config.instrument);
        config.rules = aside ? aside->rules : TempoRules{};
    }
    return config;
}

} // namespace valveladder
