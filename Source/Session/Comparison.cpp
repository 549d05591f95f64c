#include "Session/Comparison.h"

#include "Session/LoggedScore.h"

#include <algorithm>

namespace valveladder {

namespace {

/// The same notes by the same fingers in the same order; rests may differ with the tempo.
bool sameTask(const Score& a, const Score& b) {
    return std::equal(a.notes.begin(), a.notes.end(), b.notes.begin(), b.notes.end(),
                      [](const ScoreNote& left, const ScoreNote& right) {
                          return left.written == right.written && left.combination == right.combination &&
                                 left.span == right.span && left.length == right.length;
                      });
}

Problem otherDrill(const TakeRecord& take, const TakeRecord& first) {
    return {"this take asks for other notes or fingerings (" + take.header.drillName + ") than the first (" +
                first.header.drillName + ")",
            "take " + take.header.id, "Lay takes of one and the same drill side by side"};
}

double meanBpm(const std::vector<TakeRecord>& takes) {
    double sum = 0.0;
    for (const TakeRecord& take : takes)
        sum += take.playedBpm;
    return takes.empty() ? 0.0 : sum / static_cast<double>(takes.size());
}

} // namespace

Result<Comparison> compareTakes(const LogStore& log, const std::vector<ComparedSide>& sides) {
    if (sides.size() < 2)
        return Problem{"there is nothing to compare with", "takes", "Name two takes or days, or more"};
    std::vector<std::vector<TakeRecord>> read(sides.size());
    std::optional<LoggedScore> common;
    Comparison comparison;
    for (std::size_t s = 0; s < sides.size(); ++s) {
        for (const std::string& id : sides[s].takeIds) {
            auto take = log.take(id);
            if (!take)
                return take.problem();
            auto played = loggedScore(take.value());
            if (!played)
                return played.problem();
            read[s].push_back(std::move(take.value()));
            if (!common)
                common = std::move(played.value());
            else if (!sameTask(common->score, played.value().score))
                return otherDrill(read[s].back(), read.front().front());
        }
        if (read[s].empty())
            return Problem{"there is no take to compare", sides[s].label, "Name a take or a day with takes"};
    }
    comparison.instrument = std::move(common->instrument);
    comparison.score = std::move(common->score);
    std::vector<SideGroup> groups;
    for (std::size_t s = 0; s < sides.size(); ++s) {
        SideGroup group{sides[s].label, meanBpm(read[s]), {}};
        ComparedSide named{sides[s].label, {}};
        for (const TakeRecord& take : read[s]) {
            group.takes.push_back(&take.performance);
            named.takeIds.push_back(take.header.id);
        }
        groups.push_back(std::move(group));
        comparison.sides.push_back(std::move(named));
    }
    comparison.notes = sideBySide(comparison.score, groups);
    return comparison;
}

} // namespace valveladder
