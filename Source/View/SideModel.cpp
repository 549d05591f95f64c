#include "View/SideModel.h"

#include "View/LocalTime.h"
#include "View/Words.h"
#include "Words/SideWords.h"

#include <algorithm>
#include <map>

namespace valveladder {

namespace {

/// Running mean of what is there.
struct Mean {
    double sum = 0.0;
    int n = 0;

    void add(const std::optional<double>& value) {
        if (!value)
            return;
        sum += *value;
        ++n;
    }
    [[nodiscard]] std::optional<double> value() const {
        return n > 0 ? std::optional(sum / n) : std::nullopt;
    }
};

struct NoteMeans {
    Mean deviation, changeover, cents;
    int right = 0;
    int all = 0;
};

LoadedTakes comparable(const LoadedTakes& takes) {
    LoadedTakes kept;
    for (const auto& take : takes)
        if (!take->trouble && (kept.empty() || sameTask(kept.front()->logged.score, take->logged.score)))
            kept.push_back(take);
    return kept;
}

LoadedSide sideOf(const LoadedTakes& takes) {
    LoadedSide side;
    for (const auto& take : comparable(takes))
        side.takes.push_back({&take->record, &take->logged});
    return side;
}

} // namespace

std::vector<SideChoice> sideChoices(const std::vector<DatedTake>& takes) {
    std::vector<SideChoice> choices;
    std::map<std::int64_t, std::vector<const TakeSummary*>> days;
    for (const DatedTake& dated : takes)
        if (dated.take.expected > 0)
            days[dated.day].push_back(&dated.take);
    for (auto day = days.rbegin(); day != days.rend(); ++day) {
        if (day->second.size() < 2)
            continue;
        SideChoice choice;
        choice.label =
            words::dayChoice(words::dayOf(day->second.front()->header.startedUtc), day->second.size());
        for (const TakeSummary* take : day->second)
            choice.takeIds.push_back(take->header.id);
        choices.push_back(std::move(choice));
    }
    for (auto dated = takes.rbegin(); dated != takes.rend(); ++dated) {
        const TakeSummary& take = dated->take;
        if (take.expected > 0)
            choices.push_back(
                {words::takeChoice(words::timeOf(take.header.startedUtc), take), {take.header.id}});
    }
    return choices;
}

TakeModel meanModel(const LoadedTakes& takes) {
    const LoadedTakes kept = comparable(takes);
    TakeModel model = kept.front()->model;
    if (kept.size() == 1)
        return model;
    std::map<int, NoteMeans> means;
    for (const auto& take : kept)
        for (const NoteModel& note : take->model.notes) {
            NoteMeans& mean = means[note.index];
            mean.deviation.add(note.deviationMs);
            mean.changeover.add(note.changeoverMs);
            mean.cents.add(note.cents);
            mean.right += note.outcome == Outcome::right ? 1 : 0;
            ++mean.all;
        }
    for (NoteModel& note : model.notes) {
        const NoteMeans& mean = means[note.index];
        note.deviationMs = mean.deviation.value();
        note.changeoverMs = mean.changeover.value();
        note.cents = mean.cents.value();
        note.outcome = 2 * mean.right >= mean.all ? Outcome::right : Outcome::wrong;
    }
    model.midiOnly =
        std::all_of(kept.begin(), kept.end(), [](const auto& take) { return take->model.midiOnly; });
    return model;
}

std::vector<std::string> sideWords(const LoadedTakes& first, const LoadedTakes& second) {
    const auto compared = compare({sideOf(first), sideOf(second)});
    if (!compared)
        return {compared.problem().text()};
    const SideOverall& overall = compared.value().notes.overall.front();
    std::vector<std::string> lines;
    for (int measure = 0; measure < sideMeasures; ++measure) {
        const auto index = static_cast<std::size_t>(measure);
        if (overall.difference[index].n > 0)
            lines.push_back(sideLine(overall.difference[index], static_cast<SideMeasure>(measure),
                                     overall.beyondChance[index]));
        for (const ComparedChange& change : overall.changes[index])
            if (change.beyondChance)
                lines.push_back(sideChangeLine(change, static_cast<SideMeasure>(measure),
                                               compared.value().instrument.thumbValve));
    }
    return lines;
}

} // namespace valveladder
