// What players say of reports: kept beside the takes, and taken for it where takes are read.
#include "Log/LogStoreImpl.h"

#include "Base/SystemClock.h"

#include <algorithm>
#include <fmt/format.h>

namespace valveladder {

namespace {

Problem notReported(const NoteReport& report, const std::filesystem::path& path) {
    return {fmt::format("nothing of the kind \"{}\" was reported of note {} of this take",
                        enumName(report.kind), report.note + 1),
            pathText(path), "Show the take: it names its notes and what was reported of them"};
}

} // namespace

std::vector<SaidOfReport> LogDatabase::saidOf(const std::string& takeId) {
    std::vector<SaidOfReport> all;
    Use select(*this, "SELECT score_note, report, said_utc, said_right FROM corrections WHERE take_id = ? "
                      "ORDER BY score_note, report");
    select->bind(1, takeId);
    while (select->executeStep()) {
        SaidOfReport& said = all.emplace_back();
        SqlRead read(*select);
        fields(read, said.correction);
        read("saidRight", said.right);
    }
    return all;
}

bool LogDatabase::writeSaid(const std::string& takeId, const SaidOfReport& said) {
    Use insert(*this, "INSERT INTO corrections (take_id, score_note, report, said_utc, said_right) "
                      "VALUES (?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET said_utc = excluded.said_utc, "
                      "said_right = excluded.said_right "
                      "WHERE (excluded.said_utc, excluded.said_right) > (said_utc, said_right)");
    insert->bind(1, takeId);
    SqlBind bind(*insert, 2);
    fields(bind, said.correction);
    bind("saidRight", said.right);
    return insert->exec() > 0;
}

/// The take as the player says it was, judged again: it may pass now, and never fails by that.
void LogDatabase::takeTheirWord(TakeRecord& record) {
    record.performance = corrected(std::move(record.performance), record.corrections);
    if (record.passed)
        return;
    const TakeHeader& header = record.header;
    const TempoRules rules =
        rulesOf(header.player, header.instrumentId, header.drillName).value_or(TempoRules{});
    record.passed = passes(rules.pass, record.state, record.performance);
}

Result<Done> LogStore::correct(const std::string& takeId, const std::vector<NoteReport>& reports,
                               bool right) {
    return impl->write([&] {
        const auto take = impl->readTake(takeId, {.asHeard = true});
        if (!take)
            throw noSuchTake(impl->path, takeId);
        const auto told = reportsOf(take->performance);
        const auto before = impl->saidOf(takeId);
        for (const NoteReport& report : reports) {
            if (std::ranges::find(told, report) == told.end())
                throw notReported(report, impl->path);
            const auto old = std::ranges::find(
                before, report, [](const SaidOfReport& said) { return said.correction.report; });
            if (right == (old != before.end() && old->right))
                continue; // said so already, or never otherwise
            // Later than what it replaces, whatever the clock says.
            const UtcMs after = old == before.end() ? 0 : old->correction.saidUtc + 1;
            impl->writeSaid(takeId, {{report, std::max(systemUtcMs(), after)}, right});
        }
        return Done{};
    });
}

} // namespace valveladder
