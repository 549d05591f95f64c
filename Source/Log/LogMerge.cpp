#include "Log/LogStoreImpl.h"

namespace valveladder {

namespace {

/// What stands here under an id, as far as a merge must know. The larger one knows more of the take.
struct Known {
    TakeState state = TakeState::open;
    bool hasNotes = false;

    auto operator<=>(const Known&) const = default;
};

std::optional<Known> known(LogDatabase& log, const std::string& id) {
    LogDatabase::Use select(log, "SELECT state, expected > 0 FROM takes WHERE id = ?1 UNION ALL "
                                 "SELECT 'open', 0 FROM open_takes WHERE id = ?1");
    select->bind(1, id);
    std::optional<Known> best;
    while (select->executeStep()) {
        Known here;
        SqlRead read(*select);
        read("state", here.state);
        read("hasNotes", here.hasNotes);
        if (!best || *best < here)
            best = here;
    }
    return best;
}

/// Runs `read` on the other log, so that what is wrong with it is said of it and not of ours.
template <typename Read>
auto reading(const LogDatabase& there, Read&& read) {
    auto result = guarded(there.path, read);
    if (!result.ok())
        throw result.problem();
    return std::move(result.value());
}

void mergeCorrections(LogDatabase& here, LogDatabase& there, const std::string& id, MergeCount& count) {
    for (const SaidOfReport& said : reading(there, [&] { return there.saidOf(id); }))
        count.corrections += here.writeSaid(id, said) ? 1 : 0;
}

void mergeTake(LogDatabase& here, LogDatabase& there, const std::string& id, Known theirs,
               MergeCount& count) {
    const auto note = reading(there, [&] { return there.playerNote(id).value_or(PlayerNote{}); });
    const auto ours = known(here, id);
    if (ours && !(*ours < theirs)) {
        ++count.known;
        const auto ourNote = here.playerNote(id);
        if (ourNote && *ourNote < note) {
            here.writePlayerNote(id, note);
            ++count.notes;
        }
        return;
    }
    const auto record = reading(there, [&] { return there.readTake(id, {.asHeard = true}); });
    if (!record)
        return; // gone meanwhile
    here.writeTake(*record, note);
    ++(ours ? count.replaced : count.added);
}

void mergeOpen(LogDatabase& here, const TakeHeader& header, MergeCount& count) {
    if (known(here, header.id)) {
        ++count.known;
        return;
    }
    here.writeTake(partialOf(header), {});
    ++count.added;
}

void mergeRules(LogDatabase& here, LogDatabase& there, MergeCount& count) {
    LogDatabase::Use select(there, "SELECT player, instrument_id, drill_name, rules_json, changed_utc "
                                   "FROM plan_rules");
    while (select->executeStep()) {
        LogDatabase::Use insert(
            here, "INSERT INTO plan_rules VALUES (?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET "
                  "rules_json = excluded.rules_json, changed_utc = excluded.changed_utc "
                  "WHERE (excluded.changed_utc, excluded.rules_json) > (changed_utc, rules_json)");
        for (int i = 0; i < 4; ++i)
            insert->bind(i + 1, select->getColumn(i).getString());
        insert->bind(5, select->getColumn(4).getInt64());
        count.rules += insert->exec();
    }
}

} // namespace

Result<MergeCount> LogStore::merge(const std::filesystem::path& other) {
    auto opened = openReadOnly(other);
    if (!opened.ok())
        return opened.problem();
    LogDatabase& there = *opened.value()->impl;
    const auto theirs = guarded(other, [&] { return std::pair(there.summaries({}), there.openTakes()); });
    if (!theirs.ok())
        return theirs.problem();

    MergeCount count;
    Result<Done> done = Done{};
    for (const TakeSummary& take : theirs.value().first)
        if (done.ok())
            done = impl->write([&] {
                mergeTake(*impl, there, take.header.id, {take.state, take.expected > 0}, count);
                mergeCorrections(*impl, there, take.header.id, count);
                return Done{};
            });
    // A take that is still being played on this computer will be finished there.
    for (const JournalRow& take : theirs.value().second)
        if (done.ok() && !livesHere(take.process))
            done = impl->write([&] {
                mergeOpen(*impl, take.header, count);
                return Done{};
            });
    if (done.ok())
        done = impl->write([&] {
            mergeRules(*impl, there, count);
            return Done{};
        });
    if (!done.ok())
        return done.problem();
    return count;
}

} // namespace valveladder
