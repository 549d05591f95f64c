#include "Review/Comparison.h"

#include <algorithm>
#include <deque>
#include <optional>

namespace valveladder {

namespace {

/// Told of the side, as it was asked for: ids are nothing that a player knows a take by.
Problem otherDrill(const LoadedSide& side, const TakeRecord& take, const TakeRecord& first) {
    return {"this take asks for other notes or fingerings (" + take.header.drillName + ") than the first (" +
                first.header.drillName + ")",
            side.label, "Lay takes of one and the same drill side by side"};
}

double meanBpm(const std::vector<ComparedTake>& takes) {
    double sum = 0.0;
    for (const ComparedTake& one : takes)
        sum += one.take->playedBpm;
    return takes.empty() ? 0.0 : sum / static_cast<double>(takes.size());
}

/// What is wrong with the sides, if anything.
std::optional<Problem> misfit(const std::vector<LoadedSide>& sides) {
    if (sides.size() < 2)
        return Problem{"there is nothing to compare with", "takes", "Name two takes or days, or more"};
    for (const LoadedSide& side : sides)
        if (side.takes.empty())
            return Problem{"there is no take to compare", side.label, "Name a take or a day with takes"};
    const ComparedTake& first = sides.front().takes.front();
    for (const LoadedSide& side : sides)
        for (const ComparedTake& one : side.takes)
            if (!sameTask(first.played->score, one.played->score))
                return otherDrill(side, *one.take, *first.take);
    return std::nullopt;
}

/// A take read for a comparison.
struct ReadTake {
    TakeRecord record;
    LoggedScore played;
};

Result<ReadTake> readTake(const LogStore& log, const std::string& id) {
    auto record = log.take(id);
    if (!record)
        return record.problem();
    auto played = loggedScore(record.value());
    if (!played)
        return played.problem();
    return ReadTake{std::move(record.value()), std::move(played.value())};
}

} // namespace

bool sameTask(const Score& a, const Score& b) {
    return std::equal(a.notes.begin(), a.notes.end(), b.notes.begin(), b.notes.end(),
                      [](const ScoreNote& left, const ScoreNote& right) {
                          return left.written == right.written && left.combination == right.combination &&
                                 left.span == right.span && left.length == right.length;
                      });
}

Result<Comparison> compare(const std::vector<LoadedSide>& sides) {
    if (auto wrong = misfit(sides))
        return std::move(*wrong);
    const LoggedScore& common = *sides.front().takes.front().played;
    Comparison comparison{common.instrument, common.score, {}, {}};
    std::vector<SideGroup> groups;
    for (const LoadedSide& side : sides) {
        SideGroup group{side.label, meanBpm(side.takes), {}};
        ComparedSide named{side.label, {}};
        for (const ComparedTake& one : side.takes) {
            group.takes.push_back(&one.take->performance);
            named.takeIds.push_back(one.take->header.id);
        }
        groups.push_back(std::move(group));
        comparison.sides.push_back(std::move(named));
    }
    comparison.notes = sideBySide(comparison.score, groups);
    return comparison;
}

Result<Comparison> compareTakes(const LogStore& log, const std::vector<ComparedSide>& sides) {
    std::deque<ReadTake> read; // stays in place while it grows
    std::vector<LoadedSide> loaded;
    for (const ComparedSide& side : sides) {
        loaded.push_back({side.label, {}});
        for (const std::string& id : side.takeIds) {
            auto take = readTake(log, id);
            if (!take)
                return take.problem();
            read.push_back(std::move(take.value()));
            loaded.back().takes.push_back({&read.back().record, &read.back().played});
        }
    }
    return compare(loaded);
}

} // namespace valveladder
