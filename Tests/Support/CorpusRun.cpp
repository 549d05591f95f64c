#include "Support/CorpusRun.h"

#include "Listening/SoundListener.h"
#include "Support/AubioNotes.h"

#include <cmath>
#include <cstdlib>
#include <string_view>

namespace valveladder::testing {

bool fullSize() {
    const char* full = std::getenv("VALVE_LADDER_FULL");
    return full != nullptr && std::string_view(full) == "1";
}

int corpusSize(int small, int full) {
    return fullSize() ? full : small;
}

namespace {

void addAubio(CorpusResult& result, const RenderedTake& rendered, const std::vector<std::string>& groups) {
    const auto reference = referenceNotes(rendered.take.truth);
    const auto events = withoutLag(aubioNotes(rendered.take.samples, rendered.take.rate), reference);
    const MatchCounts counts = matchNotes(reference, events);
    result.aubio += counts;
    for (const std::string& group : groups)
        result.aubioByGroup[group] += counts;
    for (const NoteEvent& r : reference) {
        double nearest = 0.05;
        for (const NoteEvent& e : events)
            if (std::abs(e.midi - r.midi) <= 0.5 && std::abs(e.onset - r.onset) < std::abs(nearest))
                nearest = e.onset - r.onset;
        if (std::abs(nearest) < 0.05)
            result.aubioOnsetErrorsMs.push_back(1000.0 * nearest);
    }
}

} // namespace

void CorpusResult::add(const Tally& tally, const std::vector<std::string>& groups) {
    all += tally;
    for (const std::string& group : groups)
        byGroup[group] += tally;
}

ListenedTake listenTo(const Score& score, const SoundTake& take, double bpm) {
    SoundSettings settings;
    settings.sampleRate = take.rate;
    settings.tempo = TempoMap(bpm);
    settings.startSeconds = take.truth.startSeconds;
    SoundListener listener(score, settings);
    listener.push(take.samples);
    Performance heard = listener.finish();
    return {std::move(heard),
            {listener.reports().begin(), listener.reports().end()},
            {listener.lateFingers().begin(), listener.lateFingers().end()}};
}

Tally heardTake(const RenderedTake& rendered, double bpm, const std::string& name) {
    const Performance heard = listenTo(rendered.score, rendered.take, bpm).heard;
    return tallyTake(rendered.score, bpm, rendered.take, heard, rendered.take.truth.startSeconds, name);
}

CorpusResult runCorpus(Part part, Condition condition, int size, bool withAubio,
                       const std::function<bool(const TakeRecipe&)>& wanted) {
    CorpusResult result;
    for (const TakeRecipe& recipe : recipes(part, condition, size)) {
        if (wanted && !wanted(recipe))
            continue;
        const RenderedTake rendered = renderTake(recipe);
        const Tally tally = heardTake(rendered, recipe.bpm, recipe.name());
        const std::vector<std::string> groups{nameOf(recipe.kind), nameOf(recipe.articulation),
                                              nameOf(recipe.source)};
        result.add(tally, groups);
        if (withAubio)
            addAubio(result, rendered, groups);
    }
    return result;
}

CorpusResult runCorpus(Life life, Part part, Condition condition, int size) {
    CorpusResult result;
    visitTakes(life, part, condition, size, [&](const TakeInLife& take) {
        result.add(heardTake(take.rendered, take.bpm, take.name), take.groups);
    });
    return result;
}

std::string table(const CorpusResult& result, const std::string& title) {
    std::string text = tallyTableHead(title, "aubio yin F");
    const bool aubio = result.aubio.reference > 0;
    for (const auto& [name, tally] : result.byGroup)
        text += tallyTableRow(name, tally, aubio ? &result.aubioByGroup.at(name) : nullptr);
    return text + tallyTableRow("all", result.all, aubio ? &result.aubio : nullptr);
}

} // namespace valveladder::testing
