#include "Base/Path.h"
#include "Console/Commands.h"
#include "Console/EvaluateCorrections.h"
#include "Console/Progress.h"
#include "Console/Workers.h"
#include "Files/RecordingEvaluation.h"

#include <algorithm>
#include <memory>

namespace valveladder::console {

namespace {

struct Options {
    std::string folder;
    int channel = 0; ///< 0 = all mixed
    int workers = usualWorkers();
    bool byCorrections = false;
    CorrectionOptions corrections;
};

struct Evaluated {
    AnnotatedRecording recording;
    std::optional<Result<Tally>> tally;
};

Json asJson(const Tally& tally) {
    const auto onsets = magnitudesOf(tally.onsetErrorsMs);
    return {{"notes", tally.notes.reference},
            {"heard", tally.notes.estimated},
            {"matched", tally.notes.matched},
            {"noteF", tally.notes.f()},
            {"onsetErrorMsMedian", quantile(onsets, 0.5)},
            {"onsetErrorMs95", quantile(onsets, 0.95)},
            {"onsetBiasMs", quantile(tally.onsetErrorsMs, 0.5)},
            {"falseReports", tally.falseReports}};
}

void print(Tool& tool, const Options& options, const std::vector<Evaluated>& all, const Tally& sum) {
    if (tool.json) {
        Json recordings = Json::array();
        for (const Evaluated& each : all) {
            Json json{{"sound", pathText(each.recording.sound)},
                      {"annotation", pathText(each.recording.notes)}};
            if (each.tally->ok())
                json.update(asJson(each.tally->value()));
            else
                json["problem"] = each.tally->problem().text();
            recordings.push_back(std::move(json));
        }
        tool.printJson({{"recordings", recordings}, {"all", asJson(sum)}});
        return;
    }
    tool.printText(tallyTableHead(options.folder, "other F"));
    for (const Evaluated& each : all)
        if (each.tally->ok())
            tool.printText(tallyTableRow(
                pathText(std::filesystem::relative(each.recording.sound, pathOf(options.folder))),
                each.tally->value()));
    tool.printText(tallyTableRow("all", sum));
    tool.print(
        "\nNote F: onset within 50 ms and pitch within 50 cents of the annotation (MIREX). The annotated\n"
        "notes are the score that is listened with; what is not heard so counts as a false report.\n");
}

Result<Done> evaluate(Tool& tool, const Options& options) {
    if (options.byCorrections)
        return evaluateCorrections(tool, options.corrections);
    if (options.folder.empty())
        return Problem{"there is nothing to evaluate", "evaluate",
                       "Name a folder of recordings, or give --corrections"};
    if (options.workers < 1)
        return Problem{"there must be one worker at least", "--jobs", "Give 1 or more"};
    if (options.channel < 0)
        return Problem{"channels are counted from 1", "--channel", "Give 0 to mix all"};
    auto found = annotatedRecordings(pathOf(options.folder));
    if (!found)
        return found.problem();
    std::vector<Evaluated> all;
    for (const AnnotatedRecording& recording : found.value())
        all.push_back({recording, std::nullopt});
    Progress progress(all.size(), tool.json);
    const auto channel = options.channel > 0 ? std::optional(options.channel - 1) : std::nullopt;
    shareOut(all.size(), options.workers, [&](std::size_t i) {
        const std::string name = pathText(all[i].recording.sound);
        all[i].tally =
            evaluateRecording(all[i].recording, channel, [&](double share) { progress.share(name, share); });
        progress.finished(name);
    });
    Tally sum;
    for (const Evaluated& each : all)
        if (each.tally->ok())
            sum += each.tally->value();
        else
            tool.warn(each.tally->problem().text());
    if (std::ranges::none_of(all, [](const Evaluated& each) { return each.tally->ok(); }))
        return all.front().tally->problem();
    print(tool, options, all, sum);
    return Done{};
}

} // namespace

void addEvaluate(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "evaluate",
        "Score the listening on annotated recordings\n\nFor every recording (WAV, AIFF, FLAC) under a folder "
        "that has its notes beside it or nearby as NAME.csv or NAME_notes.csv (columns onset, offset, pitch: "
        "seconds and MIDI number), listens with these notes as the score and prints how many were heard, how "
        "far off their onsets were, and how much was reported that is not so.\n\nWith --corrections it "
        "counts "
        "in the log how often players said that what was reported of their takes was not so.");
    CLI::Option* folder =
        sub->add_option("folder", options->folder, "Recordings with their notes, at any depth");
    sub->add_flag("--corrections", options->byCorrections, "Of the log's takes instead, by what players said")
        ->excludes(folder);
    sub->add_option("--channel", options->channel, "Channel of the sound, from 1 (all mixed)")
        ->option_text("N");
    sub->add_option("-j,--jobs", options->workers, "Recordings heard at a time (one for each core)")
        ->option_text("N");
    options->corrections.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder evaluate recordings\n"
                "  valve-ladder evaluate recordings -j 2 --json\n"
                "  valve-ladder evaluate --corrections --player Ann");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return evaluate(tool, *options); }; });
}

} // namespace valveladder::console
